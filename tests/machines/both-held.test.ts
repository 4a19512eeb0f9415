import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BothHeld } from '../../machines/both-held.ts';

type Edge = { switch: 'chest' | 'airway'; down: boolean; lost?: true; timeStampMs: number };

/** `100 chest down`: an edge; `2500`: time goes by; `give up`: another line is to be written; `called`: by somebody. */
function said(isOn: boolean, ...steps: (string | number)[]): string[] {
  const sign = new BothHeld<Edge>(isOn);
  return steps.flatMap((step) => {
    const news =
      typeof step === 'number'
        ? sign.passTime(step)
        : step === 'give up'
          ? sign.giveUp()
          : step === 'called'
            ? sign.endSign()
            : sign.take(edgeOf(step));
    return news.map((one) => {
      if (one.type === 'edge') return `${one.edge.timeStampMs} ${one.edge.switch} ${wordOf(one.edge)}`;
      if (one.type === 'given up') return 'given up';
      return one.type === 'held'
        ? `held since ${one.sinceMs}`
        : `let go at ${one.atMs}${one.isLost ? ', lost' : ''}`;
    });
  });
}

function edgeOf(step: string): Edge {
  const [at, name, what] = step.split(' ');
  if (name !== 'chest' && name !== 'airway') throw new Error(step);
  return {
    switch: name,
    down: what === 'down',
    timeStampMs: Number(at),
    ...(what === 'lost' ? { lost: true } : {}),
  };
}

function wordOf({ down, lost }: Edge): string {
  return down ? 'down' : lost ? 'lost' : 'up';
}

describe('both held for two seconds', () => {
  it('is a sign, and its presses are never handed on', () => {
    expect(
      said(true, '100 chest down', '400 airway down', 2399, 2400, '2700 airway up', '2900 chest up'),
    ).toEqual(['held since 400', 'let go at 2900']);
  });

  it('is known from the release too, when no time was told meanwhile', () => {
    expect(said(true, '100 chest down', '400 airway down', '2700 airway up', '2900 chest up')).toEqual([
      'held since 400',
      'let go at 2900',
    ]);
  });

  it('does not count as let go while one was let go and pressed again, and says when nobody saw it', () => {
    expect(
      said(
        true,
        '0 chest down',
        '0 airway down',
        2000,
        '2100 chest up',
        '2200 chest down',
        '2300 airway lost',
        '2300 chest lost',
      ),
    ).toEqual(['held since 0', 'let go at 2300, lost']);
  });

  it('is over when somebody calls something, though one hangs: later presses go on, its own release never does', () => {
    expect(
      said(
        true,
        '0 chest down',
        '0 airway down',
        2000,
        '2500 airway up',
        'called',
        '3000 airway down',
        '3300 airway up',
        '4000 chest up',
        '5000 chest down',
        '5100 chest up',
      ),
    ).toEqual([
      'held since 0',
      'given up',
      '3000 airway down',
      '3300 airway up',
      '5000 chest down',
      '5100 chest up',
    ]);
  });

  it('is over ten seconds later, though one hangs', () => {
    const hangs = [
      '0 chest down',
      '0 airway down',
      2000,
      '2500 airway up',
      '3000 airway down',
      '3100 airway up',
    ];
    expect(said(true, ...hangs, 12_000, 12_001, '12500 airway down')).toEqual([
      'held since 0',
      'given up',
      '12500 airway down',
    ]);
    expect(said(true, ...hangs, '12500 airway down')).toEqual([
      'held since 0',
      'given up',
      '12500 airway down',
    ]);
  });

  it('can be given again after it was over and both were let go', () => {
    expect(
      said(
        true,
        '0 chest down',
        '0 airway down',
        2000,
        'called',
        '2500 airway up',
        '2600 chest up',
        '9000 chest down',
        '9100 airway down',
        11_100,
        '12000 chest up',
        '12000 airway up',
      ),
    ).toEqual(['held since 0', 'given up', 'held since 9100', 'let go at 12000']);
  });

  it('is none when held for less, and the presses then go on with their own times, in order', () => {
    expect(said(true, '100 chest down', '400 airway down', 2000, '2399 chest up', '2600 airway up')).toEqual([
      '100 chest down',
      '400 airway down',
      '2399 chest up',
      '2600 airway up',
    ]);
  });

  it('is none when one hangs: the two must go down within a second', () => {
    expect(said(true, '0 chest down', 1001, '1002 airway down', 5000, '5100 airway up')).toEqual([
      '0 chest down',
      '1002 airway down',
      '5100 airway up',
    ]);
  });

  it('is none when another line is to be written: what waits goes before it', () => {
    expect(said(true, '0 chest down', '200 airway down', 'give up', 3000, '3100 chest up')).toEqual([
      '0 chest down',
      '200 airway down',
      '3100 chest up',
    ]);
  });

  it('is nothing at all where it is switched off', () => {
    expect(said(false, '0 chest down', '0 airway down', 3000, '3100 chest up')).toEqual([
      '0 chest down',
      '0 airway down',
      '3100 chest up',
    ]);
  });

  it('leaves all other presses as they are, whatever they are', () => {
    const press = fc.record({
      gap: fc.integer({ min: 1, max: 900 }),
      name: fc.constantFrom<Edge['switch']>('chest', 'airway'),
    });
    fc.assert(
      fc.property(fc.array(press, { minLength: 2, maxLength: 60 }), (presses) => {
        const sign = new BothHeld<Edge>(true);
        const isDown = { chest: false, airway: false };
        let atMs = 0;
        const sent: Edge[] = [];
        for (const { gap, name } of presses) {
          // Each edge of both within 1.8 s: never the sign.
          atMs += gap;
          isDown[name] = !isDown[name];
          sent.push({ switch: name, down: isDown[name], timeStampMs: atMs });
          if (isDown.chest && isDown.airway) {
            isDown[name] = false;
            sent.push({ switch: name, down: false, timeStampMs: atMs + 1 });
            atMs += 1;
          }
        }
        const got = [
          ...sent.flatMap((edge) => sign.take(edge)),
          ...sign.passTime(atMs + 5000),
          ...sign.giveUp(),
        ];
        expect(got).toEqual(sent.map((edge) => ({ type: 'edge', edge })));
      }),
    );
  });
});
