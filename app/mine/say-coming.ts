// Whether one is in, said to oneself.
import type { RecordOf } from '#lib/words'

/** "You are late, about 10:15." */
export function sayComing(attendance: Pick<RecordOf<'attendance'>, 'state' | 'dueAt'> | null): string {
  switch (attendance?.state) {
    case undefined:
      return 'Are you in?'
    case 'in':
      return 'You are in.'
    case 'late':
      return attendance?.dueAt ? `You come at ${attendance.dueAt}.` : 'You come later.'
    case 'away':
      return 'You are away.'
    case 'left':
      return 'You have left.'
  }
}
