// What every answer says about how it may be used: scripts and styles by nonce only, nothing from elsewhere, never in a
// frame. Next reads the nonce from the policy on the request and puts it on each script of the page.
import { randomBytes } from 'node:crypto'

/** A fresh nonce for one page. */
export const makeNonce = (): string => randomBytes(16).toString('base64')

/** The content security policy of a page. Hot reload evaluates code and writes styles into the page. */
export function policyOf(nonce: string, isDev: boolean): string {
  const script = isDev ? `'unsafe-eval'` : ''
  const style = isDev ? `'unsafe-inline'` : `'nonce-${nonce}'`
  return [
    `default-src 'self'`,
    `script-src 'self' 'nonce-${nonce}' 'strict-dynamic' ${script}`.trim(),
    `style-src 'self' ${style}`,
    `img-src 'self' data: blob:`,
    `font-src 'self'`,
    `connect-src 'self'`,
    `worker-src 'self'`,
    `manifest-src 'self'`,
    `object-src 'none'`,
    `base-uri 'none'`,
    `form-action 'self'`,
    `frame-ancestors 'none'`,
  ].join('; ')
}

/** Policy of answers that are not pages. */
export const barePolicy = `default-src 'none'; frame-ancestors 'none'`

/** Headers of every answer. */
export function commonHeaders(isSecure: boolean): Readonly<Record<string, string>> {
  return {
    'x-content-type-options': 'nosniff',
    'x-frame-options': 'DENY',
    // Links that let somebody in must not travel on in a referrer.
    'referrer-policy': 'same-origin',
    'cross-origin-opener-policy': 'same-origin',
    'cross-origin-resource-policy': 'same-origin',
    'permissions-policy': 'camera=(self), microphone=(), geolocation=(), payment=(), usb=(), browsing-topics=()',
    ...(isSecure ? { 'strict-transport-security': 'max-age=31536000' } : {}),
  }
}
