// Looking into pictures with sharp (libvips): what a file is, whether all of it can be read, small copies of it. A file
// is told by its first bytes, never by its name, and only three readers are left switched on: the others (documents,
// drawings, archives of pixels) have no use here and are where hostile files aim.
import sharp from 'sharp'
import { PHOTO_PIXELS_MAX, type PhotoForm, type PhotoRefusal, photoForms, smallSides } from '#lib/words'

sharp.block({ operation: ['VipsForeignLoad'] })
sharp.unblock({ operation: ['VipsForeignLoadJpeg', 'VipsForeignLoadPng', 'VipsForeignLoadWebp'] })
// Decoded pictures are looked at once; a cache of them would only hold memory.
sharp.cache(false)
// The gate and the solver want the other core.
sharp.concurrency(1)

/** What a picture says of itself before a pixel is decoded; sizes as it is looked at. */
export interface PictureSize {
  readonly form: PhotoForm
  readonly widthPx: number
  readonly heightPx: number
}

/** Reads the head of a picture (a file's name, or its bytes). Never throws for what the picture holds. */
export async function look(
  picture: string | Uint8Array,
): Promise<PictureSize | { readonly refused: Extract<PhotoRefusal, 'not-an-image' | 'too-many-pixels'> }> {
  try {
    // The limit is ours to tell below, in words, before anything is decoded.
    const said = await sharp(picture, { limitInputPixels: false, failOn: 'none' }).metadata()
    const form = photoForms.find((one) => one === said.format)
    if (!form || !(said.width > 0) || !(said.height > 0)) return { refused: 'not-an-image' }
    if (said.width * said.height > PHOTO_PIXELS_MAX) return { refused: 'too-many-pixels' }
    // EXIF orientations 5 to 8 lie on their side.
    const isTurned = (said.orientation ?? 1) >= 5
    return {
      form,
      widthPx: isTurned ? said.height : said.width,
      heightPx: isTurned ? said.width : said.height,
    }
  } catch {
    return { refused: 'not-an-image' }
  }
}

const opened = (file: string) => sharp(file, { limitInputPixels: PHOTO_PIXELS_MAX, failOn: 'truncated' })

/** Decodes every row and writes the small copies, one file each; false when the picture is not whole. */
export async function writeSmall(file: string, nameOf: (side: number) => string): Promise<boolean> {
  try {
    for (const side of smallSides)
      await opened(file)
        .autoOrient()
        .resize({ width: side, height: side, fit: 'inside', withoutEnlargement: true })
        // JPEG has no holes to see through: what was clear becomes paper.
        .flatten({ background: '#ffffff' })
        .jpeg({ quality: 82 })
        .toFile(nameOf(side))
    return true
  } catch {
    return false
  }
}

/** Writes the full picture upright, with its colour profile and nothing else that the camera wrote. */
export async function writeOutgoing(file: string, to: string, form: PhotoForm): Promise<void> {
  await opened(file)
    .autoOrient()
    .keepIccProfile()
    .toFormat(form, form === 'png' ? {} : { quality: 95 })
    .toFile(to)
}
