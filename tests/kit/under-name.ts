// Asking a server under one of many names, which need not be known to this machine: a browser finds NAME.localhost by itself,
// Node does not.
import { request } from 'node:http'
import WebSocket from 'ws'

/** What came back. */
export interface Told {
  readonly status: number
  readonly text: string
  /** The session's cookie, where one was set. */
  readonly cookie: string | null
}

export interface Asking {
  readonly method?: string
  readonly cookie?: string
  readonly headers?: Readonly<Record<string, string>>
  readonly body?: unknown
}

export interface Named {
  /** What a browser would call the place. */
  readonly origin: string
  /** Name and port. */
  readonly host: string
  readonly ask: (path: string, asking?: Asking) => Promise<Told>
  /** Opens a socket; answers its status, 101 when it was let in. */
  readonly socket: (path: string, cookie: string, origin?: string) => Promise<number>
}

/** A server at `url` as it is asked under a name. */
export function underName(url: string, name: string): Named {
  const { port } = new URL(url)
  const host = `${name}:${port}`
  const here = `http://${host}`
  return {
    ...{ origin: here, host },
    ask: (path, { method = 'GET', cookie = '', headers = {}, body } = {}) =>
      new Promise((done, fail) => {
        const text = body === undefined ? null : Buffer.isBuffer(body) ? body : JSON.stringify(body)
        const sent = request(
          {
            ...{ port, path, method, host: '127.0.0.1' },
            headers: {
              ...{ host, 'x-talus': '1', 'content-type': 'application/json' },
              ...(cookie && { cookie }),
              ...headers,
            },
          },
          (response) => {
            let said = ''
            response.setEncoding('utf8')
            response.on('data', (part) => {
              said += part
            })
            response.on('end', () => {
              const [set] = response.headers['set-cookie'] ?? []
              done({ status: response.statusCode ?? 0, text: said, cookie: set?.split(';')[0] ?? null })
            })
          },
        )
        sent.on('error', fail)
        sent.end(text ?? undefined)
      }),
    socket: (path, cookie, origin = here) =>
      new Promise((done) => {
        const socket = new WebSocket(`ws://127.0.0.1:${port}${path}`, { headers: { host, origin, cookie } })
        socket.on('open', () => {
          done(101)
          socket.terminate()
        })
        socket.on('unexpected-response', (_request, response) => {
          done(response.statusCode ?? 0)
          socket.terminate()
        })
        socket.on('error', () => {})
      }),
  }
}

/** Enters a demo lab as the first person of a role; answers the cookie. */
export async function enterAs(lab: Named, role: string): Promise<string> {
  const { people } = JSON.parse((await lab.ask('/api/demo')).text) as { people: { id: string; role: string }[] }
  const personId = people.find((person) => person.role === role)?.id
  const { status, cookie } = await lab.ask('/api/demo', { method: 'POST', body: { personId } })
  if (status !== 200 || cookie === null) throw new Error(`Being a ${role} was answered ${status}`)
  return cookie
}
