// The Wall: today at a glance for whoever looks up, four metres away.
import type { Metadata } from 'next'
import { WallScreen } from './wall-screen.tsx'

export const metadata: Metadata = { title: 'Wall' }

export default function Page() {
  return <WallScreen />
}
