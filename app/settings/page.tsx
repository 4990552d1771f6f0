import type { Metadata } from 'next'
import { SettingsScreen } from './settings-screen.tsx'

export const metadata: Metadata = { title: 'Lab settings' }

export default function Page() {
  return <SettingsScreen />
}
