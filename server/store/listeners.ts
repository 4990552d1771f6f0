// Who in this process listens for a lab's new positions; shared by the stores on disk.

export interface Listeners {
  readonly tell: (lab: string, seq: number) => void
  readonly subscribe: (lab: string, onSeq: (seq: number) => void) => () => void
}

/** Nobody listens yet. */
export function listeners(): Listeners {
  const byLab = new Map<string, Set<(seq: number) => void>>()
  return {
    tell: (lab, seq) => {
      for (const listener of byLab.get(lab) ?? []) listener(seq)
    },
    subscribe: (lab, onSeq) => {
      const ofLab = byLab.get(lab) ?? new Set()
      byLab.set(lab, ofLab)
      ofLab.add(onSeq)
      return () => {
        ofLab.delete(onSeq)
        if (ofLab.size === 0) byLab.delete(lab)
      }
    },
  }
}
