// Photographs in words: views, and why a file was not taken.
import type { PhotoRefusal, PhotoView } from '#lib/words'
import { capital } from './amounts.ts'

const views: Readonly<Partial<Record<PhotoView, string>>> = {
  whole: 'the whole piece',
  detail: 'a detail',
  label: 'its label',
}

/** A view within a sentence: `dorsal`, `the whole piece`. */
const sayView = (view: PhotoView): string => views[view] ?? view

/** A view at the beginning of a line. */
export const sayViewHead = (view: PhotoView): string => capital(sayView(view))

/** The size of a file: `2.4 MB`, `23 kB`. */
export const sayBytes = (bytes: number): string =>
  bytes >= 100_000 ? `${(bytes / 1e6).toFixed(1)} MB` : `${Math.ceil(bytes / 1000)} kB`

/** Why a photograph is not taken, or not yet, and what to do. */
export const sayPhotoRefusal: Readonly<Record<PhotoRefusal, string>> = {
  'too-big': 'It is larger than 128 MB. Save it as JPEG, or smaller, and add that.',
  empty: 'The file is empty. Choose it again.',
  'not-an-image': 'It is no JPEG, PNG or WebP picture, whatever it is called. Save it as one of these and add that.',
  'too-many-pixels':
    'It says to have more than 120 million pixels, which is not opened here. Save it smaller and add that.',
  damaged: 'It is damaged: a part of the picture cannot be read. Take it again, or copy it again from the camera.',
  unreadable: 'This device cannot read the file any more. Choose it again.',
  'no-room': 'This device has no room left to hold it. Make room, or add it from another device.',
  'wrong-hash': 'It changed while it was sent. Choose it again.',
  'too-long': 'It changed while it was sent. Choose it again.',
  'bad-name': 'The lab did not understand what was sent. Load the page again and try once more.',
  'wrong-offset': 'Another screen is sending it too; it goes on by itself.',
  busy: 'Another screen is sending it; it goes on by itself.',
  'too-many-open': 'You have begun 40 photographs elsewhere; it goes on when some of those have come.',
  'too-much-today': 'You have sent 4 GB today, which is what a day takes; it goes on tomorrow.',
}
