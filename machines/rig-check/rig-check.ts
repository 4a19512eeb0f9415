import type { OpenLine, RigCheck, Stance, Technique } from '../journal.ts';

/** Was the rig checked with this technique and stance, and found good? */
export function isCheckedFor(
  check: RigCheck | null | undefined,
  { technique, stance }: { technique: Technique; stance: Stance },
): boolean {
  return (
    check?.outcome === 'passed' && check.techniques.includes(technique) && check.stances.includes(stance)
  );
}

/** The rig of a stretch of a drill: what the rig was not checked with is rhythm only. Without a word of a check, the drill's. */
export function rigOfStretch(
  { rig, rigCheck }: Pick<OpenLine, 'rig' | 'rigCheck'>,
  stretch: { technique: Technique; stance: Stance },
): OpenLine['rig'] {
  return rigCheck === undefined || isCheckedFor(rigCheck, stretch) ? rig : 'rhythm';
}

/**
 * What the open line says of the rig. A manikin rig counts as one only when its check was passed today with the
 * technique and stance the drill opens with; else the drill is a rhythm drill, and the check's outcome says why.
 * `check` is the day's check, or null when there was none today.
 */
export function rigOfDrill(
  wanted: Pick<OpenLine, 'rig' | 'technique' | 'stance'>,
  check: RigCheck | null,
): { rig: OpenLine['rig']; rigCheck?: RigCheck } {
  if (wanted.rig === 'rhythm') return { rig: 'rhythm' };
  if (check === null) return { rig: 'rhythm', rigCheck: { outcome: 'not-done' } };
  return { rig: isCheckedFor(check, wanted) ? 'manikin' : 'rhythm', rigCheck: check };
}
