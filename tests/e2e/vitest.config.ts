// Browser tests: the built server, real sockets, a real Chromium. Two files at once, because the machine has two cores;
// within a file tests follow each other. `npm test -- e2e FILTER` finds the browser and builds first.
import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    include: ['tests/e2e/**/*.test.ts'],
    setupFiles: ['tests/e2e/setup.ts'],
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 120_000,
    teardownTimeout: 20_000,
  },
})
