// Where the code of a label leads: short, so that the code is coarse enough to be read on a dusty tray.
import { redirect } from 'next/navigation'

export default async function Page({ params }: { readonly params: Promise<{ readonly id: string }> }) {
  const { id } = await params
  redirect(`/sheet/${encodeURIComponent(id)}`)
}
