// After each file, whatever its tests left running is ended: a failed test must not leave servers behind.
import { afterAll } from 'vitest'
import { endAll } from '../kit/server.ts'

afterAll(endAll)
