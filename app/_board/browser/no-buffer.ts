// Node's Buffer in the browser: none. Yjs's helpers name it for Node and ask first where they are; the bundler would
// put a copy of the whole of it in front of every page.
export const Buffer = undefined
