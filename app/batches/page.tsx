// Batches: what is in the bottles, and what the lab allows on its pieces.
import type { Metadata } from 'next'
import { BatchesScreen } from './batches-screen.tsx'

export const metadata: Metadata = { title: 'Batches' }

export default function Page() {
  return <BatchesScreen />
}
