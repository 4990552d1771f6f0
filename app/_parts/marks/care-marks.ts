// Marks for time, for care of bone and hands, for the record, and the few signs of the hand that steers.
import { dots, ring, type Stroke } from './strokes.ts'

const time = {
  plumb: [
    ['line', 'M8 2.500h8M12 2.500v11'],
    ['full', 'M8.300 13.300h7.400L12 22z'],
  ],
  undercut: [
    ['line', 'M3 5h18v5.500h-6c-2.300 0-2 3-2 5.500v5H3z'],
    ['thin', 'M15.800 13.500V20M18.400 13.500v4.700M21 13.500v2.700'],
  ],
  window: [
    ['line', 'M2 12c4-4.300 6-6 9-6s5.500 1.700 11 6c-5.500 4.300-8 6-11 6s-5-1.700-9-6z'],
    ['heavy', 'M10.500 4.300v15.400'],
  ],
  clock: [
    ['line', ring(12, 12, 9)],
    ['line', 'M12 6.500V12l3.700 2.500'],
  ],
  pause: [['heavy', 'M8 5v14M16 5v14']],
  start: [['line', 'M6.500 4 19 12 6.500 20z']],
  finish: [
    ['heavy', 'M4 20h16'],
    ['line', 'M12 3v12.500M7.500 11l4.500 4.500 4.500-4.500'],
  ],
} satisfies Record<string, readonly Stroke[]>

const care = {
  ceiling: [
    ['line', 'M3.500 20v-3M7.500 20v-5M11.500 20v-7'],
    ['heavy', 'M2 8.500h12.300V20'],
    ['broken', 'M17.800 20V9M21.300 20V6.500'],
  ],
  escalate: [
    ['heavy', 'M2.500 12.500H9M15 12.500h6.500'],
    ['line', 'M12 20.500v-17M7.700 7.800 12 3.500l4.300 4.300'],
  ],
  fragile: [
    ['line', 'M3 8.500c3-4 15-4 18 0l-3.500 10h-11z'],
    ['thin', 'M12.300 5.500 10.500 9.300l2.700 2.200-2.200 3.200 1 3.800'],
  ],
  patch: [
    ['broken', 'M4 4h16v16H4z'],
    ['line', 'M8.500 8.500h7v7h-7z'],
    ['thin', 'M8.500 12.500l4-4M8.500 15.500l7-7M11.500 15.500l4-4'],
  ],
  caution: [['line', 'M4.300 3h15.400v12.700L12 21.500l-7.700-5.800z'], ['heavy', 'M12 7v5'], dots([12, 15.8, 1.3])],
  noise: [
    ['line', 'M4.500 14V12a7.500 7.500 0 0 1 15 0v2'],
    ['line', 'M3 13.500h3.700V20H3zM17.300 13.500H21V20h-3.700z'],
  ],
  vibration: [
    ['line', 'M12 2.500v19'],
    [
      'line',
      'M8.200 5.500 6.700 7.700l1.500 2.200-1.500 2.200 1.500 2.200-1.500 2.200 1.500 2.200M15.800 5.500l1.500 2.200-1.500 2.200 1.500 2.200-1.500 2.200 1.500 2.200-1.500 2.200',
    ],
    ['thin', 'M3.300 9v6M20.700 9v6'],
  ],
  dust: [
    [
      'line',
      'M4.500 9c2.700-2.400 4.700-3.500 7.500-3.500S16.800 6.600 19.500 9v4.500c-1.700 3.600-4.500 5.300-7.500 5.300s-5.800-1.700-7.500-5.300z',
    ],
    [
      'thin',
      'M4.500 9 1.800 7.500M19.500 9l2.700-1.500M4.500 13.500l-2.500 1M19.500 13.500l2.500 1M8.500 11h7M8.500 13.800h7',
    ],
  ],
  lift: [
    ['line', 'M4.500 12.500h15l-1.800 6H6.300z'],
    ['line', 'M12 12.500V3.500M7.800 7.700 12 3.500l4.200 4.200'],
    ['thin', 'M3 21.500h18'],
  ],
} satisfies Record<string, readonly Stroke[]>

const record = {
  photo: [
    ['line', 'M3 7.300h4.300L9.300 5h5.400l2 2.300H21V19H3z'],
    ['line', ring(12, 13, 3.7)],
  ],
  note: [
    ['line', 'M3.500 4h17v12H11l-4.500 4.500V16h-3z'],
    ['thin', 'M7 8.500h10M7 11.700h6'],
  ],
  question: [
    ['line', 'M3.500 4h17v12H11l-4.500 4.500V16h-3z'],
    ['line', 'M9.900 8.200C10.200 7 11 6.400 12.100 6.400c1.400 0 2.300.8 2.300 2 0 1.600-2.300 1.700-2.300 3.300'],
    dots([12.1, 13.8, 0.8]),
  ],
  private: [
    ['line', 'M3 11.500c2.400 3.300 5.400 4.800 9 4.800s6.600-1.500 9-4.800'],
    ['thin', 'M5 13.600l-1.700 2.500M9 15.900l-.7 3M15 15.900l.7 3M19 13.600l1.700 2.500'],
  ],
  kept: [
    ['line', 'M3 5.500h18v14H3z'],
    ['line', 'M3 10h18'],
    ['heavy', 'M10 14.700h4'],
  ],
  sending: [
    ['line', 'M3.500 12.500v-9h17v9'],
    ['line', 'M2 12.500h20v8H2z'],
    ['thin', 'M6.500 9.500h11'],
    ['heavy', 'M10 16.500h4'],
  ],
  offline: [
    ['broken', 'M3.500 3h17v6h-17z'],
    ['line', 'M2 13.500h20v8H2z'],
    ['heavy', 'M10 17.500h4'],
  ],
  search: [
    ['line', ring(10.3, 10.3, 6.6)],
    ['line', 'M15.200 15.200 21 21'],
  ],
  print: [
    ['line', 'M6.500 9V3h11v6M6.500 16.500H3V9h18v7.500h-3.500'],
    ['line', 'M6.500 13.500h11V21h-11z'],
  ],
} satisfies Record<string, readonly Stroke[]>

const hand = {
  before: [['line', 'M20 12H4.500M10.500 5.500 4 12l6.500 6.500']],
  after: [['line', 'M4 12h15.500M13.500 5.500 20 12l-6.500 6.500']],
  add: [['line', 'M12 4v16M4 12h16']],
  close: [['line', 'M5.500 5.500l13 13M18.500 5.500l-13 13']],
  tick: [['heavy', 'M4.500 12.500l5 5 10-11']],
  unfold: [['line', 'M5 9l7 7 7-7']],
  undo: [['line', 'M4 9h10a5.500 5.500 0 0 1 0 11H8M8.500 4 4 9l4.500 5']],
  move: [
    [
      'line',
      'M12 3v18M3 12h18M9.500 5.500 12 3l2.500 2.500M9.500 18.500 12 21l2.500-2.500M5.500 9.500 3 12l2.500 2.500M18.500 9.500 21 12l-2.500 2.500',
    ],
  ],
} satisfies Record<string, readonly Stroke[]>

/** Time, care, record and hand marks by name. */
export const careMarks = { ...time, ...care, ...record, ...hand } as const
