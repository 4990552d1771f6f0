// Many labs in one installation: a folder that holds one folder for each lab, named as the lab is in its address. A mark in
// it says that it is one, so that no other folder's insides are taken for labs. A lab whose folder has a data file is kept
// there; one without is kept in the database that TALUS_STORE names, in a schema of its own.
import { existsSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { hasData } from './store/libsql.ts'
import type { StoreKind } from './store/open.ts'
import { SCHEMA } from './store/postgres/layout.ts'

/** Longest name: a schema put aside is named by it too, and PostgreSQL's names have 63 letters. */
const NAME_MAX = 30

const markIn = (folder: string) => join(folder, 'labs.json')

/** True for a name a lab may have: one part of a host name, in small letters, digits and single hyphens. */
export const isLabName = (name: string): boolean => name.length <= NAME_MAX && /^[a-z0-9]+(-[a-z0-9]+)*$/.test(name)

/** True for the folder of an installation. */
export const isInstallation = (folder: string): boolean => existsSync(markIn(folder))

/** Makes the folder of an installation, or leaves one that is there; false for a folder that holds other things. */
export function makeInstallation(folder: string): boolean {
  if (isInstallation(folder)) return true
  // Private notes and contacts of every lab: closed to other accounts.
  mkdirSync(folder, { recursive: true, mode: 0o700 })
  if (readdirSync(folder).length > 0) return false
  writeFileSync(markIn(folder), `${JSON.stringify({ labs: 1 })}\n`)
  return true
}

/** Names of the labs of an installation, in order. */
export const labsOf = (folder: string): readonly string[] =>
  readdirSync(folder, { withFileTypes: true })
    .flatMap((entry) => (entry.isDirectory() && isLabName(entry.name) ? [entry.name] : []))
    .sort()

/** Name of the lab of a folder among others; null for the folder of a lab by itself. */
export const nameAmongOthers = (folder: string): string | null =>
  isLabName(basename(folder)) && isInstallation(dirname(folder)) ? basename(folder) : null

/** Where the lab of a folder is kept: among others each for itself, else as the settings say. */
export const keptIn = (folder: string, store: StoreKind): StoreKind =>
  nameAmongOthers(folder) !== null && hasData(folder) ? { kind: 'libsql' } : store

/** Schema of a database that the lab of a folder has for itself. */
export function schemaOf(folder: string): string {
  const name = nameAmongOthers(folder)
  // Names have no underscores, so no two labs share a schema.
  return name === null ? SCHEMA : `${SCHEMA}_lab_${name.replaceAll('-', '_')}`
}

/** True when there is a lab of that name: with a data file, or with a database to be in. */
export const hasLab = (installation: string, name: string, store: StoreKind): boolean => {
  const folder = join(installation, name)
  return isLabName(name) && existsSync(folder) && (hasData(folder) || store.kind === 'postgres')
}

/**
 * Tells the lab that a host name stands for: `<name>.<domain>` of one of the domains; null for any other.
 * @param domains without a dot in front, in small letters
 */
export function nameFrom(host: string, domains: readonly string[]): string | null {
  const plain = host.toLowerCase().replace(/\.$/, '')
  const domain = domains.find((one) => plain.endsWith(`.${one}`))
  const name = domain === undefined ? '' : plain.slice(0, -domain.length - 1)
  return isLabName(name) ? name : null
}
