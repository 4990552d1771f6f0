// An answer as JSON on its way out, with the headers that keep it from being shown as a page.
import type { ServerResponse } from 'node:http'
import type { Answer } from './api.ts'
import { barePolicy } from './headers.ts'

export function sendJson(response: ServerResponse, { status, body }: Answer): void {
  const text = JSON.stringify(body)
  if (!response.hasHeader('content-security-policy')) response.setHeader('content-security-policy', barePolicy)
  response.writeHead(status, {
    'content-type': 'application/json; charset=utf-8',
    // Whoever opens an answer by its address gets a file and no page.
    'content-disposition': 'attachment; filename="talus.json"',
    'content-length': Buffer.byteLength(text),
    'cache-control': 'no-store',
  })
  response.end(text)
}
