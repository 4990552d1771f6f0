// Browser tests: the built server, real sockets, a real Chromium. Two files at once, because the machine has two cores;
// within a file tests follow each other. `npm test -- e2e FILTER` finds the browser and builds first. Waits are bounds for a
// machine many times slower, not measures: a wait that is met costs nothing.
import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    include: ['tests/e2e/**/*.test.ts'],
    globalSetup: ['tests/e2e/demo-once.ts'],
    setupFiles: ['tests/e2e/setup.ts'],
    maxWorkers: 2,
    testTimeout: 300_000,
    expect: { poll: { timeout: 60_000 } },
    hookTimeout: 300_000,
    teardownTimeout: 60_000,
  },
})
