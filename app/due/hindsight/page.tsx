// Hindsight: what the forecasts were worth.
import type { Metadata } from 'next'
import { HindsightScreen } from './hindsight-screen.tsx'

export const metadata: Metadata = { title: 'How good the forecasts were' }

export default function Page() {
  return <HindsightScreen />
}
