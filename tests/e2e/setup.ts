// After a test that failed: what stood on its screens goes into the report, since nobody was there to see it. After each
// file: whatever its tests left running is ended, so that a failed test leaves no servers behind.
import { afterAll, afterEach } from 'vitest'
import { saidOnScreens } from '../kit/browser.ts'
import { endAll } from '../kit/server.ts'

declare module 'vitest' {
  interface TaskMeta {
    screens?: readonly string[]
  }
}

afterEach(async ({ task }) => {
  if (task.result?.state === 'fail') task.meta.screens = await saidOnScreens()
})
afterAll(endAll)
