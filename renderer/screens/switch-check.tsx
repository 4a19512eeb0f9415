import { type ReactElement, useEffect, useMemo, useState } from 'react';
import type { StationSettings } from '../../electron/contract.ts';
import { contactsOf, type SwitchStamp } from '../../machines/switches/contacts.ts';
import { journalFieldsOf } from '../../machines/switches/journal-fields.ts';
import { checkSwitches, type SwitchCheck } from '../../machines/switches/switch-check.ts';
import {
  limitWords,
  offsetWords,
  SWITCH_CHECK_WORDS,
  switchCheckLines,
} from '../../machines/words/switch-check.ts';
import type { SwitchDesk } from '../switches/switch-desk.ts';

type SwitchCheckPageProps = {
  settings: Pick<StationSettings, 'switches'>;
  desk: SwitchDesk;
  /** Null: left without keeping anything. */
  onDone: (found: StationSettings['switchCheck']) => void;
};

/** How good the two switches are: presses come in any order, and the figures follow them. */
export function SwitchCheckPage({ settings, desk, onDone }: SwitchCheckPageProps): ReactElement {
  const { stamps, forget } = useStamps(settings, desk);
  const { check, presses } = useMemo(() => {
    const told = (which: 'chest' | 'airway') => desk.timesOf(settings.switches[which]).stepMs;
    return {
      check: checkSwitches(stamps, [
        { name: 'chest', toldStepMs: told('chest') },
        { name: 'airway', toldStepMs: told('airway') },
      ]),
      presses: {
        chest: contactsOf(stamps, 'chest').length,
        airway: contactsOf(stamps, 'airway').length,
      },
    };
  }, [stamps, desk, settings.switches]);
  return (
    <main className="rig-check switch-check">
      <h1>{SWITCH_CHECK_WORDS.title}</h1>
      <p>{SWITCH_CHECK_WORDS.why}</p>
      <ol>
        {SWITCH_CHECK_WORDS.steps.map((step) => (
          <li key={step}>{step}</li>
        ))}
      </ol>
      <table className="figures">
        <thead>
          <tr>
            <th scope="col">{SWITCH_CHECK_WORDS.figure}</th>
            <th scope="col">{SWITCH_CHECK_WORDS.chest}</th>
            <th scope="col">{SWITCH_CHECK_WORDS.airway}</th>
          </tr>
        </thead>
        <tbody>
          {switchCheckLines(check, presses).map((line) => (
            <tr key={line.label}>
              <th scope="row">{line.label}</th>
              <td>{line.chest}</td>
              <td>{line.airway}</td>
            </tr>
          ))}
          <tr>
            <th scope="row">{SWITCH_CHECK_WORDS.offset}</th>
            <td colSpan={2}>{offsetWords(check)}</td>
          </tr>
          <tr>
            <th scope="row">{SWITCH_CHECK_WORDS.limit}</th>
            <td colSpan={2}>{limitWords(check)}</td>
          </tr>
        </tbody>
      </table>
      <button type="button" className="primary" onClick={() => onDone(foundBy(check))}>
        {SWITCH_CHECK_WORDS.keep}
      </button>
      <p className="switch-actions">
        <button type="button" className="plain" onClick={forget}>
          {SWITCH_CHECK_WORDS.again}
        </button>
        <button type="button" className="plain" onClick={() => onDone(null)}>
          {SWITCH_CHECK_WORDS.back}
        </button>
      </p>
    </main>
  );
}

/** Every edge as its device gave it, from when the page is opened. */
function useStamps(
  { switches }: Pick<StationSettings, 'switches'>,
  desk: SwitchDesk,
): { stamps: readonly SwitchStamp[]; forget: () => void } {
  const [stamps, setStamps] = useState<readonly SwitchStamp[]>([]);
  useEffect(() => {
    const add = (stamp: SwitchStamp) => setStamps((before) => [...before, stamp]);
    const source = desk.make(switches, {
      binding: 'place',
      // Nothing is cleaned up here: bounce is what is looked for.
      bounceMs: 0,
      sources: { chest: desk.timesOf(switches.chest), airway: desk.timesOf(switches.airway) },
    });
    return source.listen({
      onEdge: ({ switch: name, down, timeStampMs }) => add({ switch: name, down, atMs: timeStampMs }),
      onRepeat: (name, atMs) => add({ switch: name, down: true, atMs, isRepeat: true }),
      onThirdKey: () => undefined,
      onFocus: () => undefined,
      onDevice: () => undefined,
    });
  }, [desk, switches]);
  return { stamps, forget: () => setStamps([]) };
}

function foundBy(check: SwitchCheck): StationSettings['switchCheck'] {
  const { sources, switchOffset, bounceMs } = journalFieldsOf(check, false);
  return {
    at: new Date().toISOString(),
    found: {
      sources: { chest: sources.chest ?? {}, airway: sources.airway ?? {} },
      ...(switchOffset === undefined ? {} : { switchOffset }),
      ...(bounceMs === undefined ? {} : { bounceMs }),
    },
  };
}
