// Before every test file: chance comes from one seed, so that a run can be repeated. `SEED=n npm test` tries another.
import fc from 'fast-check'

fc.configureGlobal({ seed: Number(process.env.SEED ?? 1) })
