// The Rack: everything that waits, and where it is shelved.
import type { Metadata } from 'next'
import { Suspense } from 'react'
import { RackScreen } from './rack-screen.tsx'

export const metadata: Metadata = { title: 'Rack' }

export default function Page() {
  return (
    <Suspense>
      <RackScreen />
    </Suspense>
  )
}
