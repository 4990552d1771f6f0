// Next's own types for pages and imported pictures and styles. Stands here, in place of the file that Next generates
// beside package.json, so that a fresh clone type-checks before anything was built.
/// <reference types="next" />
/// <reference types="next/image-types/global" />
