// The season: what runs short week by week, which jackets to open, what the first days would look like.
import type { Metadata } from 'next'
import './season.css'
import { SeasonScreen } from './season-screen.tsx'

export const metadata: Metadata = { title: 'Season' }

export default function Page() {
  return <SeasonScreen />
}
