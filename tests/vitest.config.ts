// Unit tests: everything below tests/ but the browser's. Two workers, because the machine has two cores.
import { defineConfig } from 'vitest/config'

/** Far above what any test takes alone: a busy machine must not fail one. */
const PATIENCE_MS = 60_000

const ours = {
  setupFiles: ['tests/kit/seed.ts'],
  testTimeout: PATIENCE_MS,
  hookTimeout: PATIENCE_MS,
  // The solver's inner loops run as plain modules: rewritten imports make each table read a call, four times slower.
  server: { deps: { external: [/\/lib\/(lineup|season|forecast|base)\//] } },
  execArgv: ['--import', 'tsx'],
}
const ofLib = ['tests/lib/**/*.test.ts']

export default defineConfig({
  test: {
    maxWorkers: 2,
    projects: [
      // `lib` is pure, so its files share what they load: 176 seconds instead of 281.
      { test: { ...ours, name: 'lib', include: ofLib, isolate: false } },
      {
        test: {
          ...ours,
          name: 'effects',
          include: ['tests/**/*.test.ts'],
          exclude: [...ofLib, 'tests/e2e/**', 'node_modules/**'],
        },
      },
    ],
  },
})
