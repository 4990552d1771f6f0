import type { Metadata } from 'next'
import { RoomScreen } from './room-screen.tsx'

export const metadata: Metadata = { title: 'Room and places' }

export default function Page() {
  return <RoomScreen />
}
