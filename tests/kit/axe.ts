// axe on the page that is open: what it finds against the accessibility rules, one line for each.
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import type { Page } from 'playwright'

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

/** Every violation with where it is, of all rules or of those named; empty when axe finds nothing. */
export async function violations(page: Page, rules?: readonly string[]): Promise<readonly string[]> {
  await page.evaluate(axe)
  return page.evaluate(async (rules) => {
    type Result = { violations: { id: string; nodes: { target: string[]; failureSummary?: string }[] }[] }
    const { axe } = window as unknown as { axe: { run: (options: object) => Promise<Result> } }
    const { violations } = await axe.run({ resultTypes: ['violations'], ...(rules && { runOnly: [...rules] }) })
    return violations.map(
      ({ id, nodes }) =>
        `${id} ${nodes[0]?.target.join(' ')} (${nodes.length}) ${nodes[0]?.failureSummary?.split('\n')[1] ?? ''}`,
    )
  }, rules)
}
