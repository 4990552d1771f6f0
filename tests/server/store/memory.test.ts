// The memory twin keeps the store's promises, but for one: nothing outlives it.
import { memoryStore } from '../../../server/store/memory.ts'
import { storeSuite } from '../../suites/store.ts'

storeSuite('memory', async () => ({ store: memoryStore(), reopen: null, end: async () => {} }))
