// The thread that sets records of pieces as a PDF, so that the gate never waits for a page: each piece begins on a page of
// its own, with its number and the page's at the foot.
import { parentPort, workerData } from 'node:worker_threads'
import PDFDocument from 'pdfkit'
import type { PdfJob } from './record-pdf.ts'

/** A4 in points; margins 18 mm, and room for the foot. */
const MARGIN = 51
const [WHEN, WHO] = [96, 80]
const PHOTO_HIGH = 190

const { forms, fonts, lab, on } = workerData as PdfJob
const doc = new PDFDocument({
  ...{ size: 'A4', margin: MARGIN, autoFirstPage: false, bufferPages: true },
  info: { Title: `Treatment records, ${lab}`, Creator: 'Talus', CreationDate: new Date(`${on}T12:00:00Z`) },
})
const parts: Uint8Array[] = []
doc.on('data', (part: Uint8Array) => parts.push(part))
doc.on('end', () => parentPort?.postMessage(new Uint8Array(Buffer.concat(parts))))
doc.registerFont('plain', fonts.plain)
doc.registerFont('strong', fonts.strong)
/** Which piece each page belongs to. */
const owners: string[] = []
let owner = ''
doc.on('pageAdded', () => owners.push(owner))
const wide = () => doc.page.width - 2 * MARGIN
const left = () => doc.page.height - MARGIN - doc.y

for (const { form, pictures } of forms) {
  owner = form.number
  doc.addPage()
  doc.font('strong').fontSize(24).text(form.number, MARGIN, MARGIN)
  if (form.name !== '') doc.font('plain').fontSize(14).text(form.name)
  doc.moveDown(0.6)
  for (const [label, value] of form.facts)
    row(
      [
        [label, 120],
        [value, 0],
      ],
      9.5,
    )
  for (const { title, lines } of form.parts) {
    heading(title)
    for (const { when, who, text } of lines)
      row(
        [
          // The face sets digits close to a space.
          [when.replace(' ', '  '), WHEN],
          [who, WHO],
          [text, 0],
        ],
        9.5,
      )
  }
  if (form.photos.length > 0) heading('Photographs')
  form.photos.forEach(({ caption }, n) => {
    const picture = pictures[n]
    doc.font('plain').fontSize(9)
    const high = doc.heightOfString(caption, { width: wide() })
    if (left() < high + (picture ? PHOTO_HIGH + 10 : 0) + 8) doc.addPage()
    if (picture) {
      doc.image(Buffer.from(picture), MARGIN, doc.y, { fit: [wide(), PHOTO_HIGH] })
      doc.y += PHOTO_HIGH + 4
    }
    doc.text(picture ? caption : `${caption} (picture not here)`, MARGIN, doc.y, { width: wide() })
    doc.moveDown(0.8)
  })
}
foot()
doc.end()

function heading(title: string): void {
  if (left() < 60) doc.addPage()
  doc.moveDown(0.8)
  doc.font('strong').fontSize(12).text(title, MARGIN, doc.y)
  doc
    .moveTo(MARGIN, doc.y + 1)
    .lineTo(doc.page.width - MARGIN, doc.y + 1)
    .lineWidth(1)
    .stroke()
  doc.y += 5
}

/** Cells side by side; the last takes what is left and may run over pages. */
function row(cells: readonly (readonly [text: string, width: number])[], size: number): void {
  doc.font('plain').fontSize(size)
  const line = doc.heightOfString('Ag', { width: wide() })
  if (left() < line * 2) doc.addPage()
  const [page, top] = [doc.bufferedPageRange().count, doc.y]
  let x = MARGIN
  let bottom = top
  for (const [text, width] of cells.slice(0, -1)) {
    doc.text(text, x, top, { width: width - 8 })
    bottom = Math.max(bottom, doc.y)
    x += width
  }
  doc.text(cells.at(-1)?.[0] ?? '', x, top, { width: doc.page.width - MARGIN - x })
  const isOnSamePage = doc.bufferedPageRange().count === page
  doc.y = (isOnSamePage ? Math.max(bottom, doc.y) : doc.y) + 3
  doc.x = MARGIN
}

/** Whose page it is, out of how many, and from when. */
function foot(): void {
  const { count } = doc.bufferedPageRange()
  for (let n = 0; n < count; n++) {
    doc.switchToPage(n)
    // Below the margin a line would begin a page of its own.
    doc.page.margins.bottom = 0
    const words = `${owners[n] ?? ''} · ${lab} · taken out ${on} · page ${n + 1} of ${count}. The record in Talus goes on after this.`
    doc
      .font('plain')
      .fontSize(8)
      .text(words, MARGIN, doc.page.height - MARGIN + 14, { width: wide(), lineBreak: false })
  }
}
