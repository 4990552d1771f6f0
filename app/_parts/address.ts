// Where the lab stands below its origin: nowhere as a rule, or below a path that a proxy keeps for it. Next's own links know
// of it; whatever asks for an address by itself says it through here.

/** '' or '/talus', written in when the pages are built. */
const PREFIX = process.env.TALUS_PREFIX ?? ''

/** An address of ours as the browser asks for it. */
export const addressOf = (path: string): string => PREFIX + path

/** Where the lab is found, as links to it from elsewhere begin; in a browser alone. */
export const originHere = (): string => window.location.origin + PREFIX

/** The first page. Below a path it has no stroke at its end. */
export const HOME = PREFIX || '/'
