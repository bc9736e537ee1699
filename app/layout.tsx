import '@fontsource-variable/atkinson-hyperlegible-next'
import './_ui/tokens.css'
import type { Metadata, Viewport } from 'next'
import { headers } from 'next/headers'
import type { ReactNode } from 'react'

/** A page's scripts carry the nonce of its own request, so no page is made ahead of it. */
export const dynamic = 'force-dynamic'

export const metadata: Metadata = { title: { default: 'Weirboard', template: '%s · Weirboard' } }
export const viewport: Viewport = {
  width: 'device-width',
  initialScale: 1,
  themeColor: [
    { media: '(prefers-color-scheme: light)', color: '#f6f1e7' },
    { media: '(prefers-color-scheme: dark)', color: '#12191b' },
  ],
}

export default async function Layout({ children }: { children: ReactNode }) {
  const nonce = /'nonce-([^']+)'/.exec((await headers()).get('content-security-policy') ?? '')?.[1]
  return (
    <html lang="en">
      <head>{nonce ? <meta property="csp-nonce" nonce={nonce} /> : null}</head>
      <body>{children}</body>
    </html>
  )
}
