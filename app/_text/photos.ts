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

const changed =
  'What came is not the file that was named, so the lab kept nothing of it. It is still on this device: try again; if that fails, let it go and add it anew from the camera.'

/** Why the picture of a record cannot be shown: no such file, one may not see it, nobody answered. */
export type NoPicture = 'not there' | 'not shown' | 'out of reach'

/** What a server that does not give a picture means by it; null for no answer at all. */
export function noPictureOf(status: number | null): NoPicture {
  if (status === 404) return 'not there'
  return status === 401 || status === 403 ? 'not shown' : 'out of reach'
}

/** In place of a small picture. */
export const sayNoPicture: Readonly<Record<NoPicture, string>> = {
  'not there': 'Its file never came.',
  'not shown': 'Not shown to you now.',
  'out of reach': 'Not in reach now.',
}

/** In place of a large one: what happened, what is kept, what to do. */
export const sayWhyNoPicture: Readonly<Record<NoPicture, string>> = {
  'not there':
    'Its file never came to the lab, or was not the one that this record names. What is said of it is kept. Whoever has the picture adds it again; then this one can be withdrawn.',
  'not shown': 'Not shown to you now. The lab has it; open the lab again.',
  'out of reach': 'The lab is out of reach. Nothing is lost: the picture is shown when that is over.',
}

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
  'wrong-hash': changed,
  'too-long': changed,
  'bad-name': 'The lab did not understand what was sent. Load the page again and try once more.',
  'wrong-offset': 'Another screen is sending it too; it goes on by itself.',
  busy: 'Another screen is sending it; it goes on by itself.',
  'too-many-open': 'You have begun 40 photographs elsewhere; it goes on when some of those have come.',
  'too-much-today': 'You have sent 4 GB today, which is what a day takes; it goes on tomorrow.',
}
