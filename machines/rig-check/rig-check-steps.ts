import type { Stance, Technique } from '../journal.ts';

export const HANDS = [
  'thumbs resting',
  'one third down',
  'let up',
  'bag held',
  'chest just rises',
  'bag released',
] as const;
/** Where the hands are to be in a step. */
export type Hands = (typeof HANDS)[number];
export type CheckedSwitch = 'chest' | 'airway';

/** One step: with the hands so, the switch is down, or up. The airway's steps have no technique. */
export type RigCheckStep = {
  switch: CheckedSwitch;
  technique: Technique | null;
  stance: Stance;
  hands: Hands;
  isDown: boolean;
};
export type RigCheckParts = { techniques: readonly Technique[]; stances: readonly Stance[] };

const CHEST_STEPS = [
  { hands: 'thumbs resting', isDown: false },
  { hands: 'one third down', isDown: true },
  { hands: 'let up', isDown: false },
] as const;
const AIRWAY_STEPS = [
  { hands: 'bag held', isDown: false },
  { hands: 'chest just rises', isDown: true },
  { hands: 'bag released', isDown: false },
] as const;

/** Every step in order: stance by stance, the chest with each technique, then the bag. */
export function rigCheckSteps({ techniques, stances }: RigCheckParts): RigCheckStep[] {
  return stances.flatMap((stance) => [
    ...techniques.flatMap((technique) =>
      CHEST_STEPS.map((step): RigCheckStep => ({ switch: 'chest', technique, stance, ...step })),
    ),
    ...AIRWAY_STEPS.map((step): RigCheckStep => ({ switch: 'airway', technique: null, stance, ...step })),
  ]);
}
