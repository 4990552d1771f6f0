// The settings of one start, read from the command line and the environment and checked at once: what is wrong is said
// before anything is opened. What there is to set stands in options.mjs, which the bootstrap's --help prints too.
import { resolve } from 'node:path'
import { parseArgs } from 'node:util'
import { instantOf, isZone, minuteOf } from '#lib/base'
import { type IsProxy, proxiesOf } from './http/address.ts'
import type { LogKind } from './logs.ts'
import { options, prefixOf } from './options.mjs'
import { BadPlace, type PhotosPlace, photosPlace } from './photos/s3-place.ts'
import { type StoreKind, storeKind } from './store/open.ts'

export interface Settings {
  readonly port: number
  /** Null for all addresses of this machine. */
  readonly host: string | null
  /** Where other processes on the same database reach this one; null to make it from host and port. */
  readonly address: string | null
  /** Path below which a proxy shows the lab; '' for none. */
  readonly prefix: string
  /** Names the lab goes by; empty when none are named. */
  readonly hosts: readonly string[]
  readonly data: string
  /** Folder of an installation of many labs; null where `data` is the one lab's. */
  readonly labs: string | null
  /** A lab among others without anybody for so long goes to rest. */
  readonly restMs: number
  /** Labs among others that are open at once. */
  readonly awakeMax: number
  readonly store: StoreKind
  readonly photos: PhotosPlace
  readonly isProxy: IsProxy
  readonly log: LogKind
  /** Port of this machine alone that figures are read from; null for none. */
  readonly metrics: number | null
  /** True when a collector of traces is named by the variables that are usual for it. */
  readonly isTraced: boolean
  /** Name of a lab to make; null to open what is there. */
  readonly newLab: string | null
  /** True when a data folder without a lab becomes a demo lab. */
  readonly makesDemo: boolean
  readonly zone: string
  /** Name of a person to print a link for. */
  readonly invite: string | null
  /** Where the clock begins instead of now, ms since 1970. */
  readonly asIf: number | null
  /** Size of a demo lab that is to be made. */
  readonly scale: number
}

/** A setting that cannot be: the message says got and expected. */
export class BadSetting extends Error {}

/** Reads the settings; throws a BadSetting. */
export function readSettings(
  args: readonly string[],
  env: Readonly<Record<string, string | undefined>>,
  root: string,
): Settings {
  const said = read(args)
  const value = (name: string): string | null => {
    const option = options.find((one) => one.name === name)
    return said[name] ?? (option?.env ? env[option.env] : undefined) ?? null
  }
  const textOr = <T>(name: string, otherwise: T): string | T => value(name) || otherwise
  const data = textOr('data', null)
  const newLab = textOr('new', null)
  const zone = textOr('zone', Intl.DateTimeFormat().resolvedOptions().timeZone)
  const store = storeKind(textOr('store', 'libsql'))
  if (newLab !== null && data === null)
    throw new BadSetting('--new makes a lab in a folder of its own: add --data DIR.')
  if (newLab !== null && (newLab.trim() === '' || newLab.length > 120)) {
    throw new BadSetting('--new expects a name of 1 to 120 letters.')
  }
  if (!isZone(zone)) throw new BadSetting(`TALUS_ZONE expects an IANA time zone such as Europe/Lisbon, got ${zone}.`)
  // What was given is not said again: it may hold a password.
  if (!store) {
    throw new BadSetting('TALUS_STORE expects libsql, memory or an address such as postgres://talus@localhost/talus.')
  }
  const labs = textOr('labs', null)
  if (labs !== null && (said.data ?? said.new ?? said.invite ?? said.scale) !== undefined)
    throw new BadSetting(
      '--labs serves the labs that are there: npm run found makes one, npm run invite lets somebody in.',
    )
  if (labs !== null && store.kind === 'memory') throw new BadSetting('--labs expects a store that lasts.')
  const from = env.INIT_CWD ?? root
  return {
    port: whole('PORT', textOr('port', '3000'), 0, 65_535),
    host: textOr('host', null),
    address: address(textOr('address', null)),
    // The bootstrap has refused what is no path.
    prefix: prefixOf(args, env),
    hosts: names(textOr('hosts', '')),
    // npm changes into the clone; a folder is meant from where it was called.
    data: data === null ? resolve(root, '.data/demo') : resolve(from, data),
    labs: labs === null ? null : resolve(from, labs),
    restMs: whole('TALUS_REST', textOr('rest', '600'), 1, 86_400) * 1000,
    awakeMax: whole('TALUS_AWAKE', textOr('awake', '100'), 1, 10_000),
    store,
    photos: photos(textOr('photos', 'folder'), env),
    isProxy: proxies(textOr('proxy', '')),
    log: logKind(textOr('log', 'plain')),
    metrics: metricsPort(textOr('metrics', null)),
    isTraced: isTraced(env),
    newLab: newLab?.trim() ?? null,
    makesDemo: labs === null,
    zone,
    invite: textOr('invite', null),
    asIf: moment(zone, textOr('as-if', null)),
    scale: whole('--scale', textOr('scale', '1'), 1, 100),
  }
}

function read(args: readonly string[]): Record<string, string | undefined> {
  try {
    const { values } = parseArgs({
      args: [...args],
      options: Object.fromEntries(
        options.map(({ name, value }) => [name, { type: value === null ? ('boolean' as const) : ('string' as const) }]),
      ),
    })
    return Object.fromEntries(Object.entries(values).map(([name, value]) => [name, String(value)]))
  } catch (error) {
    // Node's own words name the argument; the rest of them is for programmers.
    const [first = ''] = String(error instanceof Error ? error.message : error).split('. ')
    throw new BadSetting(`${first}. See npm start -- --help.`)
  }
}

function moment(zone: string, text: string | null): number | null {
  if (text === null) return null
  const [, date = '', time = ''] = /^(\d{4}-\d{2}-\d{2})T((?:[01]\d|2[0-3]):[0-5]\d)$/.exec(text) ?? []
  if (date === '' || Number.isNaN(Date.parse(date))) {
    throw new BadSetting(`--as-if expects a local moment such as 2026-03-12T09:25, got ${text}.`)
  }
  return instantOf(zone, date, minuteOf(time))
}

function photos(text: string, env: Readonly<Record<string, string | undefined>>): PhotosPlace {
  try {
    return photosPlace(text, env)
  } catch (error) {
    throw error instanceof BadPlace ? new BadSetting(error.message) : error
  }
}

function logKind(text: string): LogKind {
  if (text === 'plain' || text === 'json') return text
  throw new BadSetting(`TALUS_LOG expects plain or json, got ${text}.`)
}

const metricsPort = (text: string | null): number | null =>
  text === null ? null : whole('TALUS_METRICS', text, 0, 65_535)

/** OpenTelemetry's own variables: where to, and the two that switch it off all the same. */
function isTraced(env: Readonly<Record<string, string | undefined>>): boolean {
  const named = ['OTEL_EXPORTER_OTLP_TRACES_ENDPOINT', 'OTEL_EXPORTER_OTLP_ENDPOINT'].filter((name) =>
    env[name]?.trim(),
  )
  // The library would send to an address of its own choice; what was given may hold a password.
  const wrong = named.find((name) => !/^https?:\/\//.test(env[name] ?? '') || !URL.canParse(env[name] ?? ''))
  if (wrong) throw new BadSetting(`${wrong} expects an address such as http://localhost:4318.`)
  const isOff = env.OTEL_SDK_DISABLED?.toLowerCase() === 'true' || env.OTEL_TRACES_EXPORTER === 'none'
  return named.length > 0 && !isOff
}

function whole(name: string, text: string, low: number, high: number): number {
  const number = Number(text)
  if (!/^\d+$/.test(text) || number < low || number > high) {
    throw new BadSetting(`${name} expects a whole number from ${low} to ${high}, got ${text}.`)
  }
  return number
}

function address(text: string | null): string | null {
  if (text === null) return null
  if (/^http:\/\//.test(text) && URL.canParse(text)) return new URL(text).origin
  throw new BadSetting(`TALUS_ADDRESS expects an address such as http://10.0.0.7:3000, got ${text}.`)
}

function names(list: string): readonly string[] {
  const all = list.split(',').flatMap((name) => name.trim().toLowerCase() || [])
  const odd = all.find((name) => !/^[a-z0-9-]+(\.[a-z0-9-]+)*$/.test(name))
  if (odd !== undefined) throw new BadSetting(`TALUS_HOSTS expects names such as talus.example, got ${odd}.`)
  return all
}

function proxies(list: string): IsProxy {
  try {
    return proxiesOf(list)
  } catch (error) {
    throw new BadSetting(error instanceof Error ? error.message : String(error))
  }
}
