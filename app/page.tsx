// Floor is home.
import type { Metadata } from 'next'
import { Suspense } from 'react'
import { FloorScreen } from './floor/floor-screen.tsx'

export const metadata: Metadata = { title: 'Floor' }

export default function Page() {
  return (
    <Suspense>
      <FloorScreen />
    </Suspense>
  )
}
