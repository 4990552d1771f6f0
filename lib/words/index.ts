// The lab's words as schemas and types: the single source for validation at the door, forms, import and export.
export * from './atoms.ts'
export * from './faces.ts'
export * from './kinds.ts'
export * from './lab.ts'
export * from './messages.ts'
export * from './people.ts'
export * from './pieces.ts'
export * from './work.ts'
