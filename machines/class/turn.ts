/**
 * Who does what at one station for a turn. Roles are held for the whole turn: a pair changes them from turn to turn, so that a turn
 * that is cut short leaves nobody with half of one. A swap inside a drill is practised as well, and nothing here rests on it.
 */
export type Group = { station: number; chest: string; airway: string; observer: string | null };
/** A turn that was held. Who is in no group waited, or was not there. */
export type DoneTurn = { groups: readonly Group[] };

/** Tool defaults. */
export const TURN_MINUTES = { usual: 8, least: 1, most: 60 } as const;
export const MOST_STATIONS = 12;

/**
 * Stations in use: a trio at each, and one more where somebody would else wait, as long as there is a pair for it. So nobody waits
 * beside a free station (four people, two stations: two pairs), and full trios are not broken for one (six people, three stations:
 * two trios, the third stays empty): to look is a role too.
 */
export function stationsUsed(people: number, stations: number): number {
  return Math.min(stations, Math.ceil(people / 3), Math.floor(people / 2));
}
