import type { Metadata } from 'next'
import { JoinScreen } from './join-screen.tsx'

export const metadata: Metadata = { title: 'Join' }

export default function Page() {
  return <JoinScreen />
}
