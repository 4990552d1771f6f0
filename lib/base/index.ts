// Small tools that know nothing of the lab.
export * from './assert.ts'
export * from './dates.ts'
export * from './ids.ts'
export * from './ints.ts'
export * from './normal.ts'
export * from './random.ts'
export * from './share.ts'
