// Due: will it be ready?
import type { Metadata } from 'next'
import './due.css'
import { DueScreen } from './due-screen.tsx'

export const metadata: Metadata = { title: 'Due' }

export default function Page() {
  return <DueScreen />
}
