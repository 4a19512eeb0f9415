import type { CallLine, Roles, Stance, Technique } from '../journal.ts';

/** Who does what, how and from where: what stays the same for a whole bout. */
export type Arrangement = { roles: Roles; technique: Technique; stance: Stance };
export type ArrangementCall = Extract<CallLine, { call: 'swap' | 'technique' | 'stance' }>;
export type HandoverReason = ArrangementCall['call'];

/** The arrangement a call asks for. */
export function arrange(from: Arrangement, call: ArrangementCall): Arrangement {
  if (call.call === 'technique') return { ...from, technique: call.technique };
  if (call.call === 'stance') return { ...from, stance: call.stance };
  return { ...from, roles: { compressor: from.roles.ventilator, ventilator: from.roles.compressor } };
}

export function isSameArrangement(one: Arrangement, other: Arrangement): boolean {
  return (
    one.roles.compressor === other.roles.compressor &&
    one.technique === other.technique &&
    one.stance === other.stance
  );
}
