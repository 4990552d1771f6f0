// Which cautions a turn carries, and whether somebody has read them as they stand: a version is made of all that the
// sentences rest on, so a change asks once more and nothing else does.
import type { RecordOf, Records, Technique } from '#lib/words'

export type CautionMark = { readonly key: string; readonly version: string }

/** The cautions of a technique and of a jacket's own hazards, each in its present version. */
export function cautionMarks(
  records: Records,
  technique: Readonly<Technique>,
  fieldHazards: readonly string[],
): readonly CautionMark[] {
  const contact = records.lab.get('lab')?.safetyContact ?? ''
  const { hazards, wear = '', whenWrong = '', vibrationMs2, noiseDba } = technique
  const isUnknown = hazards.includes('vibration') && vibrationMs2 === null
  // Only where it is unknown, so that what was read of all other tools stays read.
  const ofNoise = hazards.includes('noise') && noiseDba === null ? 'noise unknown' : ''
  const ofTechnique = [...hazards].sort().join() + wear + whenWrong + String(isUnknown) + ofNoise
  const marks = [{ key: `technique.${technique.id}`, version: versionOf(`${ofTechnique}|${contact}`) }]
  const ofField = fieldHazards.map((hazard) => ({ key: `field.${hazard}`, version: versionOf(contact) }))
  return hazards.length + wear.length + whenWrong.length === 0 ? ofField : [...marks, ...ofField]
}

/** Those of them that the person has not read in this version. */
export function unreadOf(records: Records, personId: string, marks: readonly CautionMark[]): readonly CautionMark[] {
  const seen: RecordOf<'ack'>['seen'] = records.ack.get(personId as RecordOf<'ack'>['id'])?.seen ?? []
  return marks.filter(({ key, version }) => !seen.some((one) => one.key === key && one.version === version))
}

/** FNV-1a, 32 bits: short, and the same wherever it is made. It tells versions apart and guards nothing. */
function versionOf(text: string): string {
  let hash = 0x811c9dc5
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193)
  return (hash >>> 0).toString(36)
}
