// Where photographs are kept, as a setting says it: in the data folder, or in storage that speaks S3.

/** A bucket, and how it is reached. `key` holds secrets: it is for no eyes and no log. */
export interface S3Place {
  readonly kind: 's3'
  /** Address of the bucket itself, without a slash at the end. */
  readonly bucketUrl: string
  readonly region: string
  /** What every name begins with: empty, or ending in a slash. */
  readonly prefix: string
  readonly key: { readonly id: string; readonly secret: string; readonly session: string | null }
}

export type PhotosPlace = { readonly kind: 'folder' } | S3Place

/** A setting that cannot be; the message says what was expected and repeats nothing that was given. */
export class BadPlace extends Error {}

/**
 * Reads `folder` or `s3://BUCKET/PREFIX?endpoint=https://…&region=…`. With an endpoint the bucket is a part of the path, as
 * other makers' servers want it; without one it is AWS'. The key comes from the usual variables.
 */
export function photosPlace(text: string, env: Readonly<Record<string, string | undefined>>): PhotosPlace {
  if (text === 'folder') return { kind: 'folder' }
  const expected = 'TALUS_PHOTOS expects folder, or s3://BUCKET/PREFIX?endpoint=https://HOST&region=REGION'
  if (!text.startsWith('s3://') || !URL.canParse(text)) throw new BadPlace(`${expected}.`)
  const { hostname: bucket, pathname, searchParams, username } = new URL(text)
  if (username) throw new BadPlace(`${expected}; the key belongs into AWS_ACCESS_KEY_ID and AWS_SECRET_ACCESS_KEY.`)
  if (!/^[a-z0-9][a-z0-9.-]{1,61}[a-z0-9]$/.test(bucket)) throw new BadPlace(`${expected}: the bucket’s name is none.`)
  const odd = [...searchParams.keys()].find((name) => name !== 'endpoint' && name !== 'region')
  if (odd !== undefined) throw new BadPlace(`${expected}: nothing else can be set.`)
  const path = pathname.replace(/^\/+|\/+$/g, '')
  // Letters that are the same signed and sent.
  if (!/^[A-Za-z0-9._/-]*$/.test(path) || path.split('/').includes('..'))
    throw new BadPlace(`${expected}: a prefix of letters, digits, dots, dashes and slashes.`)
  const region = searchParams.get('region') ?? env.AWS_REGION ?? 'us-east-1'
  if (!/^[a-z0-9-]{1,40}$/.test(region)) throw new BadPlace(`${expected}: the region is none.`)
  const endpoint = searchParams.get('endpoint')
  const isEndpoint = endpoint === null || (/^https?:\/\//.test(endpoint) && URL.canParse(endpoint))
  if (!isEndpoint) throw new BadPlace(`${expected}: the endpoint is no address.`)
  const { AWS_ACCESS_KEY_ID: id, AWS_SECRET_ACCESS_KEY: secret, AWS_SESSION_TOKEN: session } = env
  if (!id || !secret)
    throw new BadPlace('TALUS_PHOTOS names a bucket: set AWS_ACCESS_KEY_ID and AWS_SECRET_ACCESS_KEY too.')
  return {
    kind: 's3',
    bucketUrl: endpoint ? `${endpoint.replace(/\/+$/, '')}/${bucket}` : `https://${bucket}.s3.${region}.amazonaws.com`,
    region,
    prefix: path === '' ? '' : `${path}/`,
    key: { id, secret, session: session || null },
  }
}

/** How a place is called in a sentence: without its key. */
export const nameOfPlace = (place: PhotosPlace, folder: string): string =>
  place.kind === 'folder' ? folder : `${place.bucketUrl}/${place.prefix}`
