'use client'
// Where I am signed in, and the way out of each: for a phone that was lost, or a computer left open.
import { useEffect, useState } from 'react'
import type { DeviceKind, Devices } from '#lib/words'
import { useBoard, useNow } from '../_board/index.ts'
import { Button, Notice } from '../_parts/controls/index.ts'
import { sayMoment } from '../_text/index.ts'
import { type Answer, get, post } from './http.ts'

type Device = Devices['devices'][number]

const kinds: Readonly<Record<DeviceKind, string>> = { phone: 'Phone', tablet: 'Tablet', computer: 'Computer' }
const sayKind = ({ kind, isBench }: Device): string =>
  isBench ? 'Shared tablet' : kind === null ? 'A device' : kinds[kind]

/** The list, the last used first. */
export function DeviceList() {
  const [devices, setDevices] = useState<readonly Device[] | null>(null)
  const [problem, setProblem] = useState<string>()
  const zone = useBoard((records) => records.lab.get('lab')?.zone ?? 'UTC')
  const { date } = useNow(60_000)
  const take = (answer: Answer<Devices>) => {
    if (answer.ok) setDevices(answer.body.devices)
    setProblem(answer.ok ? undefined : sayProblem(answer.status))
  }
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked once, when the list is opened
  useEffect(() => {
    void get<Devices>('/api/devices').then(take)
  }, [])
  const end = async (body: { readonly end: string } | { readonly endOthers: true }) =>
    take(await post<Devices>('/api/devices', body))
  const others = devices?.filter(({ isHere }) => !isHere) ?? []
  return (
    <div className="flex flex-col gap-4">
      <p>
        A phone that was lost is signed out from here. What it holds of the lab is cleared when it next reaches the lab.
      </p>
      {problem === undefined ? null : <Notice kind="error">{problem}</Notice>}
      <ul>
        {devices?.map((device) => {
          const used = device.isHere ? 'this one' : `last used ${sayMoment(device.seenAt, zone, date)}`
          return (
            <li
              key={device.id}
              className="flex min-h-15 items-center justify-between gap-3 border-b border-line last:border-b-0"
            >
              <span>
                <span className="block font-strong">{sayKind(device)}</span>
                <span className="block text-small text-umber">
                  {used}, signed in {sayMoment(device.since, zone, date)}
                </span>
              </span>
              {device.isHere ? null : (
                <Button
                  aria-label={`Sign out: ${sayKind(device)}, ${used}`}
                  onClick={() => void end({ end: device.id })}
                >
                  Sign out
                </Button>
              )}
            </li>
          )
        })}
      </ul>
      {others.length > 1 ? (
        <Button onClick={() => void end({ endOthers: true })}>Sign out all but this one</Button>
      ) : null}
      {devices && others.length === 0 ? <Notice kind="plain">You are signed in nowhere else.</Notice> : null}
    </div>
  )
}

const sayProblem = (status: number): string =>
  status === 403
    ? 'Not on a shared tablet: look on a device of your own.'
    : 'The lab is out of reach. Nothing was signed out; come back when it is in reach.'
