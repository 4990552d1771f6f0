// What a running process has used, read from the system. Each throws when the process is gone.
import { readdirSync, readFileSync } from 'node:fs'

// USER_HZ, the unit of /proc/<pid>/stat, is 100 on every Linux that Node runs on.
const TICKS_PER_S = 100

/** Processor seconds used so far, all threads. */
export function cpuS(pid: number): number {
  // Fields after the name, which may hold spaces; 14 and 15 are user and system time.
  const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]?.split(' ') ?? []
  return (Number(fields[11]) + Number(fields[12])) / TICKS_PER_S
}

export function memoryMB(pid: number): number {
  const line = /VmRSS:\s+(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))
  return Math.round(Number(line?.[1] ?? 0) / 1024)
}

/** Open files and sockets. */
export const handles = (pid: number): number => readdirSync(`/proc/${pid}/fd`).length
