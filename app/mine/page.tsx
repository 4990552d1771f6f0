// My shift: where, with whom, what, how gently.
import type { Metadata } from 'next'
import { MineScreen } from './mine-screen.tsx'

export const metadata: Metadata = { title: 'My shift' }

export default function Page() {
  return <MineScreen />
}
