// For what takes a core or a hundred megabytes while it runs.

/** A line of jobs: each begins when the one before has ended, well or not, and answers for itself. */
export function oneAtATime(): <T>(job: () => Promise<T>) => Promise<T> {
  let last: Promise<unknown> = Promise.resolve()
  return (job) => {
    const next = last.then(job)
    last = next.catch(() => {})
    return next
  }
}
