// Next as the maker of pages behind our own server. Next adds an upgrade listener to whatever http server it is given
// or meets, which would handle each of our sockets twice; it gets a decoy that never listens, and in development only
// its own hot-reload upgrades are passed on to that.
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http'
import type { Duplex } from 'node:stream'
import next from 'next'

export interface Pages {
  readonly serve: (request: IncomingMessage, response: ServerResponse) => Promise<void>
  /** True when the upgrade was Next's own. */
  readonly upgrade: (request: IncomingMessage, socket: Duplex, head: Buffer) => boolean
  readonly close: () => Promise<void>
}

/** Prepares the pages of the clone in `root`. */
export async function openPages(root: string, isDev: boolean, port: number): Promise<Pages> {
  const decoy = createServer()
  const app = next({ dev: isDev, dir: root, httpServer: decoy, hostname: 'localhost', port })
  const { log } = console
  // A start prints one line, the address; Next would add how long it read its settings.
  if (!isDev) console.log = () => {}
  try {
    await app.prepare()
  } finally {
    console.log = log
  }
  const handle = app.getRequestHandler()
  return {
    serve: (request, response) => handle(request, response),
    upgrade(request, socket, head) {
      if (!isDev || !request.url?.startsWith('/_next/')) return false
      decoy.emit('upgrade', request, socket, head)
      return true
    },
    close: () => app.close(),
  }
}
