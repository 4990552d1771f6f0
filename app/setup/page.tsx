import type { Metadata } from 'next'
import { SetUpScreen } from './set-up-screen.tsx'

export const metadata: Metadata = { title: 'Setting up' }

export default function Page() {
  return <SetUpScreen />
}
