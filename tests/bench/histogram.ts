// Times gathered by the hundred thousand, in bins of 0.05 ms, so that measuring costs next to nothing and processes can
// add theirs together.
const BIN_MS = 0.05
const BINS = 200_000

export class Histogram {
  readonly #bins = new Uint32Array(BINS)
  #count = 0

  add(ms: number): void {
    const bin = Math.min(BINS - 1, Math.max(0, Math.floor(ms / BIN_MS)))
    this.#bins[bin] = (this.#bins[bin] ?? 0) + 1
    this.#count++
  }

  get count(): number {
    return this.#count
  }

  clear(): void {
    this.#bins.fill(0)
    this.#count = 0
  }

  /** The time below which a share of all lies. */
  at(share: number): number {
    const wanted = share * this.#count
    let sum = 0
    for (let bin = 0; bin < BINS; bin++) {
      sum += this.#bins[bin] ?? 0
      if (sum >= wanted && sum > 0) return Number(((bin + 0.5) * BIN_MS).toFixed(2))
    }
    return 0
  }

  /** Filled bins, to be sent to another process. */
  toPairs(): [bin: number, count: number][] {
    return Array.from(this.#bins, (count, bin): [number, number] => [bin, count]).filter(([, count]) => count > 0)
  }

  addPairs(pairs: readonly (readonly [number, number])[]): void {
    for (const [bin, count] of pairs) {
      this.#bins[bin] = (this.#bins[bin] ?? 0) + count
      this.#count += count
    }
  }
}

/** The middle one of some measurements. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  return sorted[Math.floor((sorted.length - 1) / 2)] ?? 0
}
