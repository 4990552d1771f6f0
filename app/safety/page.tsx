// Safety: checks before use, incidents, air samples.
import type { Metadata } from 'next'
import { SafetyScreen } from './safety-screen.tsx'

export const metadata: Metadata = { title: 'Safety' }

export default function Page() {
  return <SafetyScreen />
}
