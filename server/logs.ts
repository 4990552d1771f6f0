// Remarks for whoever runs the server, on standard error: plain lines for somebody who reads along, or one JSON object a line
// (TALUS_LOG=json) for what gathers them. Facts are counts, names of homes and errors, never a person's data.
import pino from 'pino'
import type { Log } from './world.ts'

export type LogKind = 'plain' | 'json'

/** Where lines go. */
export interface Lines {
  readonly write: (line: string) => void
}

export function makeLog(kind: LogKind, to: Lines): Log {
  if (kind === 'plain')
    return (level, what, facts) => to.write(`${level}: ${what}${facts ? ` ${JSON.stringify(facts)}` : ''}\n`)
  const logger = pino(
    {
      base: { service: 'talus', pid: process.pid },
      messageKey: 'what',
      timestamp: pino.stdTimeFunctions.isoTime,
      formatters: { level: (level) => ({ level }) },
    },
    to,
  )
  return (level, what, facts) => logger[level](facts ?? {}, what)
}
