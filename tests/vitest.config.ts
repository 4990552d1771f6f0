// Unit tests: everything below tests/ but the browser's. Two workers, because the machine has two cores.
import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/e2e/**', 'node_modules/**'],
    setupFiles: ['tests/kit/seed.ts'],
    maxWorkers: 2,
    // Far above what any test takes alone: a busy machine must not fail one.
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // The solver's inner loops run as plain modules: rewritten imports make each table read a call, four times slower.
    execArgv: ['--import', 'tsx'],
    server: { deps: { external: [/\/lib\/(lineup|season|forecast|base)\//] } },
  },
})
