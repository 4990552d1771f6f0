// What a run of vitest came to, from its JSON report: the counts, and what failed with the first lines of why.
import { relative } from 'node:path'
import { root } from '../server/prepare.mjs'

/** A file with a failed test, or one that did not load. */
export function isBad({ status, assertionResults }) {
  return status === 'failed' || assertionResults.some((one) => one.status === 'failed')
}

/** Tests passed and failed; one that was skipped counts as failed, since it shows nothing. */
export function countOf(files, code) {
  const all = files.flatMap(({ assertionResults }) => assertionResults)
  const passed = all.filter(({ status }) => status === 'passed').length
  const failed = all.length - passed
  // A file that does not load, an error outside of all tests, or no file at all has no failed test to count.
  return { passed, failed: failed === 0 && (code !== 0 || passed === 0 || files.some(isBad)) ? 1 : failed }
}

/** `FAILED file: test` and why, for each test that did not pass and each file that did not load. */
export function saidOf(word, files) {
  return files.flatMap(({ name, message, assertionResults }) => {
    const failures = assertionResults
      .filter(({ status }) => status !== 'passed')
      .map(({ fullName, status, failureMessages, meta }) => ({
        what: status === 'failed' ? fullName : `${fullName} (skipped: run it, or take it out)`,
        why: [shortened(failureMessages.join(' ')), ...(meta?.screens ?? [])],
      }))
    const unloaded = failures.length === 0 && message ? [{ what: 'did not load', why: [shortened(message)] }] : []
    return [...failures, ...unloaded].map(({ what, why }) =>
      [`${word} ${relative(root, name)}: ${what}`, ...why.filter((line) => line !== '')].join('\n'),
    )
  })
}

function shortened(why) {
  return why.split('\n').slice(0, 6).join('\n').slice(0, 600)
}
