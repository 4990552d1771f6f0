// The live board's face for screens: the provider, the hooks, and the shapes they give.
export { BoardProvider } from './board-provider.tsx'
export { Cell } from './core/cell.ts'
export type { Acted } from './core/desk.ts'
export type { Save } from './core/save.ts'
export { paintsFor, useDerived } from './derive.ts'
export * from './hooks.ts'
export { useNote } from './use-note.ts'
