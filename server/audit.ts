// Who changed what, and who saw what is private, as lines for somebody outside: one JSON object an entry, without the
// words themselves but with their digests, so that the file can be handed on and its chain be followed by anybody. An
// older file beside today's log shows what the log alone cannot: that the whole of it was written anew, or its end cut off.
import { existsSync, readFileSync } from 'node:fs'
import { open } from 'node:fs/promises'
import { z } from 'zod'
import { WrongCopy } from './copies.ts'
import { logsOf } from './reads.ts'
import { type Verified, verifyLog } from './sealing.ts'
import type { KeptEntry, Store } from './store/contract.ts'

/** An entry as a line; of what was changed only which records. */
export function lineOf({ seq, at, personId, kind, opId, subjects, changes, op, seal }: KeptEntry) {
  return {
    ...{ seq, at, personId, kind, opId, subjects, changed: changes.map((one) => `${one.kind} ${one.id}`) },
    // What was seen is no private word; what was done may be.
    ...(kind === 'saw' && { saw: op }),
    ...(seal && { digest: seal.digest, ...(seal.rewrote && { rewrote: seal.rewrote }), link: seal.link }),
  }
}

const Line = z.object({ log: z.string(), seq: z.number(), link: z.string().optional() })

/**
 * Writes both logs of a lab into a file and goes over them; answers a line for eyes. A file that exists is compared and
 * not written: every link in it must still stand. Throws a WrongCopy where something is not as it was written.
 */
export async function writeLog(store: Store, lab: string, file: string): Promise<string> {
  if (existsSync(file)) return compare(store, lab, file)
  const out = await open(file, 'wx', 0o600)
  const logs: { name: string; verified: Verified }[] = []
  try {
    for (const [name, kept] of logsOf(lab)) {
      let lines: string[] = []
      const verified = await verifyLog(store, kept, async (entry) => {
        lines.push(`${JSON.stringify({ log: name, ...lineOf(entry) })}\n`)
        if (lines.length < LINES_AT_ONCE) return
        const full = lines
        lines = []
        await out.write(full.join(''))
      })
      await out.write(lines.join(''))
      logs.push({ name, verified })
    }
    await out.sync()
  } finally {
    await out.close()
  }
  return `${tell(logs)} They are in ${file}: keep it away from this machine, and name it again to see that its links still stand.`
}

const LINES_AT_ONCE = 1000

async function compare(store: Store, lab: string, file: string): Promise<string> {
  const noted = { changes: new Map<number, string>(), reads: new Map<number, string>() }
  for (const [n, text] of readFileSync(file, 'utf8').split('\n').entries()) {
    if (text === '') continue
    const line = parseLine(text)
    if (!line || (line.log !== 'changes' && line.log !== 'reads'))
      throw new WrongCopy(`${file} exists and is no log of Talus (line ${n + 1}). Name a new file.`)
    if (line.link) noted[line.log].set(line.seq, line.link)
  }
  const logs: { name: string; verified: Verified }[] = []
  for (const [name, kept] of logsOf(lab)) {
    const links = noted[name]
    const verified = await verifyLog(store, kept, ({ seq, seal }) => {
      if (links.get(seq) === seal?.link) links.delete(seq)
    })
    const [missing] = links.keys()
    if (missing !== undefined)
      throw new WrongCopy(
        `The log of ${name} is not the one of ${file}: entry ${missing} is another or gone (${links.size} in all).`,
      )
    logs.push({ name, verified })
  }
  return `${tell(logs)} Every link of ${file} still stands.`
}

function parseLine(text: string) {
  try {
    return Line.safeParse(JSON.parse(text)).data ?? null
  } catch {
    return null
  }
}

function tell(logs: readonly { readonly name: string; readonly verified: Verified }[]): string {
  for (const { name, verified } of logs) {
    const [first] = verified.broken
    if (first)
      throw new WrongCopy(
        `The log of ${name} is not what was written: entry ${first.seq} (${first.what}). Compare with a backup from before.`,
      )
  }
  const all = logs.map(({ name, verified }) => {
    const { entries, from, rewritten } = verified
    const begins = from > 1 ? `, tied from ${from} on` : ''
    const erased = rewritten > 0 ? `, ${rewritten} with somebody's private words taken out` : ''
    return `${entries} ${name}${begins}${erased}`
  })
  return `The logs are whole: ${all.join('; ')}.`
}
