// What one process serves: the one lab of a data folder, or all the labs of an installation, each under a name of its own.
// To the port, the console and the figures both are the same.
import { mkdirSync } from 'node:fs'
import type { IncomingMessage } from 'node:http'
import { hostname } from 'node:os'
import { join } from 'node:path'
import { brakesOf, pinBrakes } from './door/index.ts'
import { WrongFolder } from './house.ts'
import { hostsOf } from './http/address.ts'
import type { Answer } from './http/api.ts'
import type { LabAtPort } from './http/lab-at-port.ts'
import { hasLab, isInstallation, labsOf, nameFrom } from './installation.ts'
import { type LabHere, type LabHereOptions, labHere } from './lab-here.ts'
import { firstLinks } from './links.ts'
import { manyLabs } from './many-labs.ts'
import type { Settings } from './settings.ts'

export interface ServedLabs {
  /** Opens what is to be open from the start; throws what is wrong with the settings or the store. */
  readonly enter: () => Promise<void>
  readonly labFor: (host: string) => Promise<LabAtPort | null>
  readonly errand: (request: IncomingMessage, path: string) => Promise<Answer | null>
  /** True while edits can be kept, here or where this process hands on to. */
  readonly isReady: () => boolean
  /** False while it is known of some open lab that its photographs can be neither kept nor shown. */
  readonly arePhotosWell: () => boolean
  /** Labs that are open in this process. */
  readonly open: () => number
  readonly connections: () => number
  /** Lines for whoever started it, once it listens. */
  readonly sayWhere: () => Promise<readonly string[]>
  readonly close: () => Promise<void>
}

type Serving = Omit<LabHereOptions, 'onStuck'>

/** Time for a last answer to reach the console. */
const ANSWER_MS = 200

/** Names that this machine goes by beside addresses and localhost, as far as it knows. */
export const ownNames = ({ host, hosts }: Settings): readonly string[] => [
  ...hosts,
  host ?? '',
  hostname(),
  `${hostname()}.local`,
]

const houseConnections = (lab: LabHere): number => lab.house()?.lab.connections() ?? 0

/** The lab of the data folder, open from start to end. */
export function oneLab({ settings, world, base }: Serving): ServedLabs {
  mkdirSync(settings.data, { recursive: true })
  const lab = labHere({ settings, world, base, onStuck: () => setTimeout(() => process.exit(1), ANSWER_MS) })
  const isHost = hostsOf(ownNames(settings))
  // A demo lab lets anybody choose whom to be: a page from elsewhere must not reach it under a name of its own. In a
  // real lab the cookie is bound to the name one came in by.
  const isDemo = () => lab.house()?.lab.records().lab.get('lab')?.isDemo === true
  const atPort: LabAtPort = {
    ...{ labId: lab.labId, open: lab.open, connect: lab.connect },
    elsewhere: () => lab.elsewhere()?.address ?? null,
    isHost: (name) => isHost(name) || (settings.hosts.length === 0 && !isDemo()),
    use: () => () => {},
  }
  return {
    ...{
      enter: lab.enter,
      errand: lab.errand,
      isReady: lab.isReady,
      arePhotosWell: lab.arePhotosWell,
      close: lab.close,
    },
    labFor: async () => atPort,
    open: () => (lab.house() ? 1 : 0),
    connections: () => houseConnections(lab),
    async sayWhere() {
      lab.announce()
      const house = lab.house()
      if (!house) {
        const where = lab.elsewhere()?.address
        return [`Talus stands by at ${base()}: another process has the lab${where ? `, reached at ${where}` : ''}.`]
      }
      const record = house.lab.records().lab.get('lab')
      const links = await firstLinks(house, settings.invite, base())
      return [...links, `Talus: ${record?.name ?? lab.labId()}${record?.isDemo ? ' (demo)' : ''} is open at ${base()}`]
    },
  }
}

/** Every lab of an installation, each opened when it is asked for under its name. */
export function allLabs(folder: string, { settings, world, base }: Serving): ServedLabs {
  const { log, clock } = world
  // Whoever could have a lab closed and opened again must not gain tries by it.
  const brakes = pinBrakes(clock)
  const domains = [...settings.hosts, 'localhost']
  const labs = manyLabs({
    ...{ clock, log, restMs: settings.restMs, awakeMax: settings.awakeMax },
    has: (name) => hasLab(folder, name, settings.store),
    make(name) {
      const lab = labHere({
        settings: { ...settings, data: join(folder, name) },
        world: {
          ...world,
          brakes: brakesOf(brakes, name),
          ...(world.spans && { spans: world.spans.ofLab(name) }),
          log: (level, what, facts) => log(level, what, { ...facts, lab: name }),
        },
        base,
        onStuck: () => {},
      })
      return {
        ...lab,
        elsewhere: () => lab.elsewhere()?.address ?? null,
        connections: () => houseConnections(lab),
      }
    },
  })
  return {
    async enter() {
      if (!isInstallation(folder))
        throw new WrongFolder(`${folder} holds no labs. Make one: npm run found -- NAME "Lab name" --labs ${folder}`)
    },
    async labFor(host) {
      const name = nameFrom(host, domains)
      return name === null ? null : labs.lab(name)
    },
    async errand(request, path) {
      // Each lab that is open has left a secret of its own in its folder; one at rest is the console's to open.
      for (const lab of labs.awake()) {
        const answer = await lab.errand(request, path)
        if (answer !== null) return answer
      }
      return null
    },
    isReady() {
      const awake = labs.awake()
      return awake.length === 0 || awake.some((lab) => lab.isReady())
    },
    arePhotosWell: () => labs.awake().every((lab) => lab.arePhotosWell()),
    open: () => labs.awake().filter((lab) => lab.open() !== null).length,
    connections: () => labs.awake().reduce((sum, lab) => sum + lab.connections(), 0),
    async sayWhere() {
      const at = base().replace(/\/\/[^/:]+/, '//NAME.localhost')
      return [`Talus: ${labsOf(folder).length} labs of ${folder}, each is open at ${at} once it is asked for`]
    },
    close: labs.close,
  }
}
