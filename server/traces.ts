// Where time goes, as spans for whoever watches with OpenTelemetry: calls, edits, questions, computing. Off unless a
// collector is named by the variables that are usual for it; then nothing is loaded, and what would be a span is a plain
// call. A parent is handed on by hand and not by the context of the running code: timers and sockets that a call leaves
// behind would carry that call with them for days, and Next, in the same process, writes whole paths into the spans it
// makes wherever it meets a tracer that is everybody's.
import type { Attributes, Context } from '@opentelemetry/api'
import type { SpanExporter } from '@opentelemetry/sdk-trace-base'
import type { Log } from './world.ts'

/** All that a span may say. Spans leave the house, so the list is closed: kinds, counts and outcomes, nobody's data. */
interface Facts {
  readonly 'http.request.method'?: string
  /** Of the names in http/routes.ts, never a path that was asked for. */
  readonly 'http.route'?: string
  readonly 'http.response.status_code'?: number
  /** The name of a lab among many, as the log says it too. */
  readonly 'talus.lab'?: string
  /** Kind of an act, a question or a job. */
  readonly 'talus.kind'?: string
  readonly 'talus.kinds'?: readonly string[]
  readonly 'talus.ops'?: number
  readonly 'talus.outcome'?: string
  /** Time in a thread of its own, without the time in line. */
  readonly 'talus.ms'?: number
}

/** Where spans are begun. */
export interface Spans {
  /** Does the work within a span, which ends with it; what the work begins in turn is within that. */
  readonly span: <T>(name: string, facts: Facts, work: (inside: Span) => T) => T
  /** Begins a span that is ended elsewhere. */
  readonly begin: (name: string, facts: Facts) => Span
  /** The same for one lab of several. */
  readonly ofLab: (name: string) => Spans
}

/** Something under way. */
export interface Span extends Spans {
  readonly note: (facts: Facts) => void
  readonly end: (isFault?: boolean) => void
}

export interface Traces extends Spans {
  /** For what another program asks for, which may have said by a `traceparent` which span of its own it belongs to. */
  readonly askedBy: (traceparent: string | undefined) => Spans
  /** Sends what is left, within the time given. */
  readonly close: (graceMs: number) => Promise<void>
}

/** Spans are written out in the thread that serves, between two edits: 512 at once, as is usual, held it up for 4 to 11 ms. */
const AT_ONCE = 128

/** No traces: as a place to begin spans, and as the span of whatever is done. */
export const noTraces: Traces & Span = {
  span: (_name, _facts, work) => work(noTraces),
  begin: () => noTraces,
  ofLab: () => noTraces,
  askedBy: () => noTraces,
  note: () => {},
  end: () => {},
  close: async () => {},
}

/** Begins to send traces where the usual variables say, which the library reads; without `isWanted` loads nothing. */
export async function openTraces(isWanted: boolean, log: Log): Promise<Traces> {
  if (!isWanted) return noTraces
  const [api, core, sdk, { OTLPTraceExporter }, resources] = await Promise.all([
    import('@opentelemetry/api'),
    import('@opentelemetry/core'),
    import('@opentelemetry/sdk-trace-base'),
    import('@opentelemetry/exporter-trace-otlp-http'),
    import('@opentelemetry/resources'),
  ])
  const { trace, ROOT_CONTEXT, SpanKind, SpanStatusCode } = api
  const named = resources.detectResources({ detectors: [resources.envDetector] })
  const exporter = remarking(new OTLPTraceExporter(), core.ExportResultCode.SUCCESS, log)
  const atOnce = core.getNumberFromEnv('OTEL_BSP_MAX_EXPORT_BATCH_SIZE')
  const provider = new sdk.BasicTracerProvider({
    resource: resources
      .defaultResource()
      .merge(resources.resourceFromAttributes({ 'service.name': 'talus' }))
      .merge(named),
    // Holds so many spans and drops what is beyond, however long the collector takes.
    spanProcessors: [new sdk.BatchSpanProcessor(exporter, atOnce === undefined ? { maxExportBatchSize: AT_ONCE } : {})],
  })
  const tracer = provider.getTracer('talus')

  function spansIn(context: Context, shared: Facts, kind = SpanKind.INTERNAL): Spans {
    const begin = (name: string, facts: Facts): Span => {
      const made = tracer.startSpan(name, { kind, attributes: asAttributes({ ...shared, ...facts }) }, context)
      return {
        ...spansIn(trace.setSpan(context, made), shared),
        note: (more) => void made.setAttributes(asAttributes(more)),
        end(isFault = false) {
          // Without the error's words: they may hold what somebody typed.
          if (isFault) made.setStatus({ code: SpanStatusCode.ERROR })
          made.end()
        },
      }
    }
    return {
      begin,
      span: (name, facts, work) => within(begin(name, facts), work),
      ofLab: (name) => spansIn(context, { ...shared, 'talus.lab': name }, kind),
    }
  }

  return {
    ...spansIn(ROOT_CONTEXT, {}),
    askedBy(traceparent) {
      // Its companion, tracestate, is anybody's words and goes no further.
      const parent = traceparent === undefined ? null : core.parseTraceParent(traceparent)
      const context = parent ? trace.setSpanContext(ROOT_CONTEXT, { ...parent, isRemote: true }) : ROOT_CONTEXT
      return spansIn(context, {}, SpanKind.SERVER)
    },
    async close(graceMs) {
      let timer: NodeJS.Timeout | undefined
      const late = new Promise<void>((done) => {
        timer = setTimeout(done, graceMs)
      })
      // That they did not arrive has been told.
      await Promise.race([provider.shutdown().catch(() => {}), late])
      clearTimeout(timer)
    },
  }
}

function within<T>(span: Span, work: (inside: Span) => T): T {
  let made: T
  try {
    made = work(span)
  } catch (error) {
    span.end(true)
    throw error
  }
  if (made instanceof Promise)
    made.then(
      () => span.end(),
      () => span.end(true),
    )
  else span.end()
  return made
}

/** The library takes lists that may be written to. */
const asAttributes = (facts: Facts): Attributes => facts as Attributes

/** Says once that spans do not arrive, and once that they do again. */
function remarking(exporter: SpanExporter, arrived: number, log: Log): SpanExporter {
  let isLost = false
  return {
    export(spans, done) {
      exporter.export(spans, (result) => {
        const isNow = result.code !== arrived
        if (isNow && !isLost) {
          // Not the error's words: an answer of the collector, or the address with its password, may stand in them.
          const { error } = result
          const why = error && 'code' in error ? String(error.code) : (error?.name ?? 'unknown')
          log('warn', 'traces do not reach the collector and are dropped; nothing else is concerned', { why })
        } else if (isLost && !isNow) log('info', 'traces reach the collector again')
        isLost = isNow
        done(result)
      })
    },
    shutdown: () => exporter.shutdown(),
  }
}
