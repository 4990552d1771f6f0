// Sheets and notes that screens have open. Sheets stay wanted when the person changes under them; notes are closed with
// their person and opened again by the screen.
import type { Stop } from './cell.ts'
import type { Desk } from './desk.ts'
import { Note } from './note.ts'
import type { Ports } from './ports.ts'

export type OpenNote = { readonly note: Note; readonly close: Stop }

export class Wanted {
  readonly #ports: Ports
  readonly #sheets = new Set<{ readonly pieceId: string; stop: Stop }>()
  readonly #notes = new Map<string, { readonly note: Note; users: number }>()

  constructor(ports: Ports) {
    this.#ports = ports
  }

  /** Keeps a piece's sheet open until stopped. */
  sheet(pieceId: string, desk: Desk): Stop {
    const sheet = { pieceId, stop: desk.homes.openSheet(`sheet/${pieceId}`) }
    this.#sheets.add(sheet)
    return () => {
      this.#sheets.delete(sheet)
      sheet.stop()
    }
  }

  /** Opens the note of a piece; null while nobody is known. */
  note(pieceId: string, { shelf, identity }: Desk): OpenNote | null {
    if (!shelf || !identity) return null
    let open = this.#notes.get(pieceId)
    if (!open) {
      const note = new Note(pieceId, this.#ports, shelf, (personId) => personId === identity.personId)
      open = { note, users: 0 }
      this.#notes.set(pieceId, open)
      void note.open()
    }
    const mine = open
    mine.users++
    return {
      note: mine.note,
      close: () => {
        mine.users--
        if (mine.users > 0) return
        mine.note.close()
        if (this.#notes.get(pieceId) === mine) this.#notes.delete(pieceId)
      },
    }
  }

  /** Somebody else's desk took the place of the old one. */
  moveTo(desk: Desk): void {
    for (const sheet of this.#sheets) sheet.stop = desk.homes.openSheet(`sheet/${sheet.pieceId}`)
  }

  closeNotes(): void {
    for (const { note } of this.#notes.values()) note.close()
    this.#notes.clear()
  }

  secure(): void {
    for (const { note } of this.#notes.values()) note.secure()
  }

  nudge(): void {
    for (const { note } of this.#notes.values()) note.nudge()
  }
}
