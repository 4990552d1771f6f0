// Where Next builds to (a folder of its own for each state of the sources, see server/prepare.mjs) and what it leaves
// to others: types are checked by `npm test`, headers are set by server/http.
import type { NextConfig } from 'next'

/** See server/options.mjs. */
const prefix = process.env.TALUS_PREFIX ?? ''

const config: NextConfig = {
  basePath: prefix,
  // For app/_parts/address.ts, in the browser too.
  env: { TALUS_PREFIX: prefix },
  distDir: process.env.TALUS_PAGES ?? '.next',
  poweredByHeader: false,
  // See there: 7 kB of each first load.
  turbopack: { resolveAlias: { 'next/dist/compiled/buffer': './app/_board/browser/no-buffer.ts' } },
  // No pictures are made on the way: one route less that takes addresses from outside.
  images: { unoptimized: true },
  // Next writes into the tsconfig it finds: a throw-away one, made by server/prepare.mjs.
  typescript: { ignoreBuildErrors: true, tsconfigPath: '.build/tsconfig.json' },
}

export default config
