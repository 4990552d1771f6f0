// One jacket by finger on a phone, from intake over a surprise at opening to the archive, some of it without a network.
import type { Page } from 'playwright'
import { expect, test } from 'vitest'
import { visit } from '../kit/browser.ts'
import { openedLab } from '../kit/opened-lab.ts'

const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true }
/** A busy machine is slower than the lab's. */
const LIVE_MS = 60_000

const lab = openedLab()

const tap = (page: Page, name: string | RegExp) => page.getByRole('button', { name }).first().tap()
/** Opens a part of the Sheet, each one line of a phone; once in a visit is enough. */
const unfold = (page: Page, part: string) =>
  page.getByRole('heading', { name: part }).getByRole('button', { expanded: false }).tap()
const fill = (page: Page, label: string | RegExp, text: string) =>
  page.getByRole('dialog').getByLabel(label).first().fill(text)

test('a jacket from intake over a surprise at opening to the archive', async () => {
  const { page, context, complaints } = await visit(lab.browser, lab.server.url, 'thea', '/rack', PHONE)
  const dialog = page.getByRole('dialog')
  await tap(page, 'Rack ratings…')
  await fill(page, 'Rack or shelf', 'rack 9')
  await fill(page, 'Rated for, kg', '100')
  await tap(page, 'Add the rating')
  await dialog.getByText('rated for 100 kg').waitFor()
  await page.keyboard.press('Escape')
  // Intake: what was typed is still there after the sheet was closed, and bad input is told at its field.
  await tap(page, 'New jacket')
  await fill(page, 'Field number', 'QX26-901')
  await fill(page, 'Length, cm', '60')
  await fill(page, 'Width, cm', '40')
  await fill(page, 'Height, cm', '30')
  await page.keyboard.press('Escape')
  await tap(page, 'New jacket')
  expect(await dialog.getByLabel('Field number').inputValue()).toBe('QX26-901')
  await dialog.getByLabel('Rock').selectOption('sandstone')
  await dialog.getByText(/kg to .* by its measures/).waitFor()
  await dialog.getByText(/Ellipsoid: π\/6 × 0.60 × 0.40 × 0.30 m × 1\s?610 kg\/m³/).waitFor()
  await fill(page, 'Stands at', 'rack 9, shelf b')
  await dialog.getByText(/^Rack 9 is rated for 100 kg/).waitFor()
  await fill(page, 'Expected contents', 'ribs, it seems')
  await dialog.getByText('Seen on it').tap()
  await dialog.getByText('Old plaster, unknown fibre').tap()
  await dialog
    .getByRole('list', { name: 'Cautions' })
    .getByText(/safety officer before opening/)
    .waitFor()
  await dialog.getByText('Weighed; jacket n of N').tap()
  await fill(page, 'Jacket', '3')
  await fill(page, /^of$/, '2')
  await dialog.getByText('3 of 2 cannot be.').waitFor()
  expect(await dialog.getByRole('button', { name: 'Keep', exact: true }).isDisabled()).toBe(true)
  await fill(page, /^of$/, '4')
  // It may weigh more than the rack bears: refused with the figures, and what was typed stays.
  await dialog.getByRole('button', { name: 'Keep', exact: true }).tap()
  await dialog.getByText(/as much as .* kg could stand there/).waitFor()
  await fill(page, 'It may be over. Why may it stand there', 'to be weighed on Monday')
  // Kept without a network; it is on the board at once and on the server later.
  await context.setOffline(true)
  await dialog.getByRole('button', { name: 'Keep', exact: true }).tap()
  await page.getByLabel('Number, place, words').fill('QX26-901')
  await page
    .getByRole('link', { name: /QX26-901/ })
    .first()
    .waitFor()
  await context.setOffline(false)
  await page
    .getByRole('link', { name: /QX26-901/ })
    .first()
    .tap()
  await unfold(page, 'What it is')
  await page.getByText('Plaster jacket 3 of 4').waitFor()

  // Opened: a surprise. The first assessment stays, the second says what changed.
  await unfold(page, 'Assessments')
  await assess(page, 'Assess…', async () => fill(page, 'Part of it', 'ribs'))
  await tap(page, 'Open the jacket…')
  await dialog.getByText('The safety officer was asked').tap()
  await tap(page, 'It is opened')
  await page.getByText(/is opened\./).waitFor()
  await page.keyboard.press('Escape')
  await assess(page, 'Assess again…', async () => {
    await fill(page, 'Part of it', 'skull, not ribs')
    await dialog
      .getByRole('group', { name: /^Soundness/ })
      .locator('label')
      .first()
      .tap()
    await fill(page, 'What was seen', 'A snout where ribs were expected.')
  })
  const assessments = page.getByRole('list', { name: 'Assessments, newest first' })
  await assessments.getByText(/Part: ribs → skull, not ribs/).waitFor()
  expect(await assessments.getByRole('listitem').count()).toBe(2)

  // A field jacket is not housed: what is in it becomes a specimen.
  await unfold(page, 'Housing')
  await page.getByText(/It does not go into a collection/).waitFor()
  await tap(page, 'Make a specimen…')
  for (const label of ['Contrast', 'Soundness', 'Breakage']) {
    const choice = dialog.getByLabel(new RegExp(label, 'i'))
    if ((await choice.count()) > 0) await choice.first().selectOption('3')
  }
  for (const select of await dialog.getByRole('combobox').all())
    if ((await select.inputValue()) === '') await select.selectOption('3')
  await tap(page, 'Make the specimen')
  // Its Sheet is unfolded where the jacket's was; what was not is one line, which says what is in it.
  await page.getByRole('button', { name: 'Housing none yet', expanded: true }).tap({ timeout: LIVE_MS })
  expect(await page.getByRole('button', { name: 'House it…' }).count()).toBe(0)
  await page.getByRole('button', { name: 'Whose hands in the lab', expanded: false }).waitFor()

  // Treated without a network.
  await assess(page, 'Assess…', async () => fill(page, 'Animal, as guessed', 'phytosaur'))
  await context.setOffline(true)
  await tap(page, 'Add to record')
  await fill(page, 'What was done, used or seen', 'Snout consolidated, two coats.')
  await dialog.getByLabel('Kind').selectOption('consolidant')
  await dialog.getByLabel('From batch').selectOption('batch-34')
  // Nobody has said whether samples are wanted: it is asked about, and the reason stays.
  await dialog.getByText(/whether samples of QX26-901 are wanted/).waitFor()
  expect(await dialog.getByRole('button', { name: 'Add it' }).isDisabled()).toBe(true)
  await fill(page, 'Why all the same', 'it crumbles, none are wanted')
  await tap(page, 'Add it')
  await page
    .getByRole('list', { name: 'Treatment record, newest first' })
    .getByText(/batch B.34. .*it crumbles, none are wanted/)
    .waitFor()
  // Nine fragments, two joins: the second glued without a network too, each curing on the board.
  await unfold(page, 'Fragments and joins')
  await tap(page, 'Lay out several…')
  await tap(page, 'Lay them out')
  await fits(page, 2, 7)
  await glued(page, 2, 7)
  // What is missing at a hand-over leads to its part, which is open then.
  await unfold(page, 'Whose hands')
  await tap(page, 'Hand over…')
  await dialog.getByRole('link', { name: /has no housing yet/ }).tap()
  await dialog.waitFor({ state: 'hidden' })
  await expect.poll(() => page.getByRole('button', { name: 'House it…' }).isVisible()).toBe(true)
  await expect.poll(() => page.getByRole('heading', { name: 'Housing' }).evaluate(isInView)).toBe(true)
  await tap(page, 'House it…')
  await fill(page, 'Made of', 'plaster, felt')
  await fill(page, 'With the specimen, kg', '260')
  await fill(page, 'Made to bear, kg', '400')
  await fill(page, 'Shelf', 'the long shelf')
  await tap(page, 'It is housed')
  await page.getByText('Cradle, of plaster, felt').waitFor()
  await context.setOffline(false)
  await fits(page, 5, 8)
  await glued(page, 5, 8)
  expect(
    await page
      .getByRole('list', { name: 'Assemblies' })
      .getByText(/glued with Acrylic resin/)
      .count(),
  ).toBe(2)

  // Into the acid: an end with nobody in is not taken, the nearest with somebody in is one press away.
  await tap(page, 'Begin a clock…')
  await dialog.getByLabel('What', { exact: true }).selectOption('acid bath')
  await fill(page, 'For, h', '1')
  await dialog.getByLabel('at', { exact: true }).fill('23:50')
  await dialog.getByText('Nobody who may see to it is expected then.').waitFor()
  expect(await dialog.getByRole('button', { name: 'Begin it' }).isDisabled()).toBe(true)
  await tap(page, /^End at /)
  await dialog.getByText(/^In then: /).waitFor()
  await tap(page, 'Begin it')
  await page.getByText(/then rinsing, coating, drying/).waitFor()

  // While something runs it is not handed over. Out of the acid, rinsed, coated, dried, cured: each into the record.
  for (const what of ['Acid bath', 'Rinsing', 'Coating', 'Drying', 'Curing, 2 \\+ 7', 'Curing, 5 \\+ 8']) {
    await tap(page, new RegExp(`^${what} of QX26-901 ended`))
    await dialog.getByRole('button', { name: /^It ended/ }).tap()
    await dialog.waitFor({ state: 'hidden' })
  }
  await tap(page, /^All \d+$/)
  await page
    .getByRole('list', { name: 'Treatment record, newest first' })
    .getByText(/^Rinsing: /)
    .waitFor()

  // Handed over: what is missing is a list, each line leading to where it is put right.
  await tap(page, 'Hand over…')
  await dialog.getByLabel('Goes to').selectOption('exhibit')
  await fill(page, 'Which exhibit', 'Great hall')
  await dialog.getByText(/^Missing still: 4/).waitFor()
  expect(await dialog.getByRole('button', { name: 'Sign all the same' }).isDisabled()).toBe(true)
  await dialog.getByRole('link', { name: 'Its condition is not stated.' }).tap()
  expect(await dialog.getByLabel('Condition as it leaves').evaluate((field) => field === document.activeElement)).toBe(
    true,
  )
  await fill(page, 'Condition as it leaves', 'stable, one crack filled')
  await fill(page, 'Photographs', 'six, on its Sheet')
  await dialog.getByText('The purpose is met', { exact: true }).tap()
  await dialog.getByText('Every piece has its label').tap()
  await dialog.getByText('Nothing is missing.').waitFor()
  await tap(page, 'Sign and hand over')
  await page.getByText('At rest in the archive').waitFor({ timeout: LIVE_MS })
  await page.getByText('Exhibit: Great hall', { exact: true }).waitFor()

  // Found there by what was written on its Sheet.
  await page.goto(`${lab.server.url}/rack`)
  await page.getByLabel('Number, place, words').fill('snout consolidated phytosaur')
  await page
    .getByRole('link', { name: /QX26-901/ })
    .first()
    .waitFor({ timeout: LIVE_MS })
  // It can come back, and says so.
  await page
    .getByRole('link', { name: /QX26-901/ })
    .first()
    .tap()
  await tap(page, 'Bring it back to the board')
  await page.getByText('Back in the lab').waitFor({ timeout: LIVE_MS })
  expect(complaints.filter((one) => !/ERR_INTERNET_DISCONNECTED|WebSocket|Failed to fetch/i.test(one))).toEqual([])
  await context.close()
})

/** Whether an element stands in the window as it is scrolled. */
function isInView(element: Element): boolean {
  const { top, bottom } = element.getBoundingClientRect()
  return top >= 0 && bottom <= window.innerHeight
}

/** Two fragments in the hand, and they fit. */
async function fits(page: Page, one: number, other: number): Promise<void> {
  for (const number of [one, other]) await page.getByRole('button', { name: new RegExp(`^Fragment ${number},`) }).tap()
  await tap(page, `They fit: ${one} and ${other}`)
}

/** The two glued from a batch of the lab, to cure for a day. */
async function glued(page: Page, one: number, other: number): Promise<void> {
  const dialog = page.getByRole('dialog')
  await tap(page, `Glue ${one} and ${other}`)
  await dialog.getByLabel('From batch').selectOption('batch-35')
  await fill(page, 'Cures for, h', '24')
  await dialog.getByText(/^In then: /).waitFor()
  await dialog.getByRole('button', { name: 'Glued', exact: true }).tap()
  await dialog.waitFor({ state: 'hidden' })
}

/** Opens the form, changes what `change` changes, keeps it. */
async function assess(page: Page, word: string, change: () => Promise<void>): Promise<void> {
  await tap(page, word)
  await change()
  await page.getByRole('dialog').getByRole('region', { name: 'What this changes' }).waitFor()
  await tap(page, 'Keep the assessment')
  await page.getByRole('dialog').waitFor({ state: 'hidden' })
}
