// The page around all screens: theme from its cookie, who is here from the request, the board's live session, the
// house. Every request renders anew, because each carries its own nonce.
import type { Metadata, Viewport } from 'next'
import { cookies, headers } from 'next/headers'
import type { ReactNode } from 'react'
import { BoardProvider } from './_board/index.ts'
import { readSession } from './_shell/session.ts'
import { Shell } from './_shell/shell.tsx'
import { THEME_COOKIE } from './_shell/theme-cookie.ts'
import './globals.css'

export const metadata: Metadata = {
  title: { default: 'Talus', template: '%s · Talus' },
  description: 'The shared live board of a fossil preparation lab',
}

export const viewport: Viewport = {
  width: 'device-width',
  initialScale: 1,
  viewportFit: 'cover',
  themeColor: [
    { media: '(prefers-color-scheme: light)', color: '#f7f2e8' },
    { media: '(prefers-color-scheme: dark)', color: '#1c1915' },
  ],
}

export default async function Layout({ children }: { readonly children: ReactNode }) {
  const session = readSession((await headers()).get('x-talus-session'))
  const theme = (await cookies()).get(THEME_COOKIE)?.value
  const isChosen = theme === 'light' || theme === 'dark'
  return (
    <html lang="en" data-theme={isChosen ? theme : undefined}>
      <body>
        <BoardProvider>
          <Shell session={session}>{children}</Shell>
        </BoardProvider>
      </body>
    </html>
  )
}
