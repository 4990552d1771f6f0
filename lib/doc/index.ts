// The only folder that knows how records lie in a Yjs document, and how records of an older version become today's.
export * from './document.ts'
export * from './migrate.ts'
