// One piece's whole record.
import type { Metadata } from 'next'
import { SheetScreen } from '../sheet-screen.tsx'

export const metadata: Metadata = { title: 'Sheet' }

export default async function Page({ params }: { readonly params: Promise<{ readonly id: string }> }) {
  const { id } = await params
  return <SheetScreen key={id} pieceId={id} />
}
