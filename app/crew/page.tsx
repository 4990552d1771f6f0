// The people: who is in, what they can do, when they come.
import type { Metadata } from 'next'
import { Suspense } from 'react'
import { CrewScreen } from './crew-screen.tsx'

export const metadata: Metadata = { title: 'Crew' }

export default function Page() {
  return (
    <Suspense>
      <CrewScreen />
    </Suspense>
  )
}
