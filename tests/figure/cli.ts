/**
 * `npm run -s figure -- NAME 'JSON'`: one figure from one input, one line of JSON; `{"refused": "why"}` and exit 1 on
 * input that is wrong or that the method does not cover. `-- --list` documents all of them; its last line is the same
 * as JSON.
 */
import { fileURLToPath } from 'node:url'
import { z } from 'zod'
import { benchFigures } from './bench-work.ts'
import { careFigures } from './care.ts'
import { exposureFigures } from './exposure.ts'
import { type Figure, isRefusal, refuse } from './figure.ts'
import { forecastFigures } from './forecast.ts'

export const FIGURES: readonly Figure[] = [...exposureFigures, ...careFigures, ...benchFigures, ...forecastFigures]

/** The answer to a name and a JSON text; never throws. */
export function answerOf(name: string, text: string): object {
  const found = FIGURES.find((one) => one.name === name)
  if (!found) return refuse(`There is no figure ${name}. npm run -s figure -- --list names them all.`)
  let input: unknown
  try {
    input = JSON.parse(text)
  } catch (error) {
    return refuse(`The input is not JSON: ${error instanceof Error ? error.message : error}`)
  }
  return found.answer(input)
}

/** Runs the command and returns the exit code. */
export function run(args: readonly string[]): number {
  if (args[0] === '--list') return list()
  const [name, text] = args
  if (name === undefined || text === undefined || args.length > 2) {
    process.stderr.write("figure -- NAME 'JSON' | figure -- --list\n")
    return print(refuse('Expected a name and one JSON text, as in: figure -- air.mixture \'{"substances":[]}\''))
  }
  return print(answerOf(name, text))
}

function print(answer: object): number {
  process.stdout.write(`${JSON.stringify(answer)}\n`)
  return isRefusal(answer) ? 1 : 0
}

function list(): number {
  // Whoever reads only the head of it closes the pipe; that is no error.
  process.stdout.on('error', () => process.exit(0))
  const lines = FIGURES.flatMap(({ name, says, formula, standard, input, outputs }) => [
    name,
    `  ${says}`,
    `  formula   ${formula}`,
    `  standard  ${standard}`,
    ...fieldLines(schemaOf(input)).map((line) => `  in   ${line}`),
    ...Object.entries(outputs).map(([key, what]) => `  out  ${key}: ${what}`),
    '',
  ])
  process.stdout.write(`${lines.join('\n')}\n`)
  const figures = FIGURES.map(({ input, ...rest }) => ({ ...rest, input: schemaOf(input) }))
  process.stdout.write(`${JSON.stringify({ figures })}\n`)
  return 0
}

/** The part of JSON Schema that the figures' inputs use. */
interface Schema {
  readonly type?: string
  readonly description?: string
  readonly properties?: Readonly<Record<string, Schema>>
  readonly required?: readonly string[]
  readonly items?: Schema
  readonly enum?: readonly unknown[]
  readonly minimum?: number
  readonly exclusiveMinimum?: number
  readonly maximum?: number
  readonly exclusiveMaximum?: number
  readonly anyOf?: readonly Schema[]
}

// What zod makes of strict objects, numbers, enums and lists is of that shape.
const schemaOf = (input: z.ZodType): Schema => z.toJSONSchema(input, { io: 'input' }) as Schema

function fieldLines(schema: Schema, path = ''): string[] {
  return Object.entries(schema.properties ?? {}).flatMap(([key, field]) => {
    const mark = schema.required?.includes(key) ? '' : '?'
    const inner = field.items
    const at = `${path}${key}${inner ? '[]' : ''}${mark}`
    if (inner?.properties) return fieldLines(inner, `${at}.`)
    const what = [sayRange(inner ?? field), field.description ?? inner?.description].filter((part) => part)
    return [`${at}: ${what.join('; ')}`]
  })
}

function sayRange(schema: Schema): string {
  if (schema.enum) return schema.enum.join(' | ')
  if (schema.anyOf) return schema.anyOf.map(sayRange).join(' or ')
  const low = schema.exclusiveMinimum !== undefined ? `above ${schema.exclusiveMinimum}` : schema.minimum
  const high = schema.exclusiveMaximum !== undefined ? `below ${schema.exclusiveMaximum}` : schema.maximum
  if (low === undefined && high === undefined) return schema.type ?? ''
  return high === undefined ? `${low}` : `${low} to ${high}`
}

if (process.argv[1] === fileURLToPath(import.meta.url)) process.exitCode = run(process.argv.slice(2))
