// Files that leave the lab.
import type { Metadata } from 'next'
import { OutScreen } from './out-screen.tsx'

export const metadata: Metadata = { title: 'Files out' }

export default function Page() {
  return <OutScreen />
}
