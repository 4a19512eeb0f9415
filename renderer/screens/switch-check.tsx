import { type ReactElement, useEffect, useMemo, useRef, useState } from 'react';
import type { StationSettings } from '../../electron/contract.ts';
import { contactsOf, type SwitchStamp } from '../../machines/switches/contacts.ts';
import { isAnythingFound, journalFieldsOf } from '../../machines/switches/journal-fields.ts';
import { checkSwitches, type SwitchCheck } from '../../machines/switches/switch-check.ts';
import {
  limitWords,
  offsetWords,
  SWITCH_CHECK_WORDS,
  switchCheckLines,
} from '../../machines/words/switch-check.ts';
import type { SwitchDesk } from '../switches/switch-desk.ts';

type SwitchCheckPageProps = {
  settings: Pick<StationSettings, 'switches' | 'switchCheck' | 'instructorKeys'>;
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
  const isKept = isAnythingFound(check);
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
      <button
        type="button"
        className="primary"
        aria-disabled={!isKept}
        onClick={() => {
          if (isKept) onDone(foundBy(check, settings.switchCheck));
        }}
      >
        {SWITCH_CHECK_WORDS.keep}
      </button>
      <p className="note">{isKept ? SWITCH_CHECK_WORDS.keepNote : SWITCH_CHECK_WORDS.nothingYet}</p>
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

/** Figures cost some ms: they wait until the switches have been still for so long, so that no press waits for them. */
const STILL_MS = 300;

/** Every edge as its device gave it, from when the page is opened, told once the switches are still. */
function useStamps(
  { switches, instructorKeys }: Pick<StationSettings, 'switches' | 'instructorKeys'>,
  desk: SwitchDesk,
): { stamps: readonly SwitchStamp[]; forget: () => void } {
  const taken = useRef<SwitchStamp[]>([]);
  const [stamps, setStamps] = useState<readonly SwitchStamp[]>([]);
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const add = (stamp: SwitchStamp) => {
      taken.current.push(stamp);
      clearTimeout(timer);
      timer = setTimeout(() => setStamps([...taken.current]), STILL_MS);
    };
    const source = desk.make(
      { switches, instructorKeys },
      {
        binding: 'place',
        // Nothing is cleaned up here: bounce is what is looked for.
        bounceMs: 0,
        sources: { chest: desk.timesOf(switches.chest), airway: desk.timesOf(switches.airway) },
      },
    );
    const stop = source.listen({
      onEdge: ({ switch: name, down, timeStampMs }) => add({ switch: name, down, atMs: timeStampMs }),
      onRepeat: (name, atMs) => add({ switch: name, down: true, atMs, isRepeat: true }),
      onThirdKey: () => undefined,
      onFocus: () => undefined,
      onDevice: () => undefined,
    });
    return () => {
      clearTimeout(timer);
      stop();
    };
  }, [desk, switches, instructorKeys]);
  const forget = () => {
    taken.current = [];
    setStamps([]);
  };
  return { stamps, forget };
}

/** What was found now, over what was found before: a figure that was not looked for this time stays. */
function foundBy(check: SwitchCheck, before: StationSettings['switchCheck']): StationSettings['switchCheck'] {
  const old = before?.found;
  const found = journalFieldsOf(check, old?.switchOffset?.applied ?? false);
  const switchOffset = found.switchOffset ?? old?.switchOffset;
  const isBounceKnown = check.switches.every(({ bounce }) => 'n' in bounce);
  const bounce = isBounceKnown
    ? { bounceMs: found.bounceMs, bounceProblem: reasonOf(check.bounceLimitMs) }
    : { bounceMs: old?.bounceMs, bounceProblem: old?.bounceProblem };
  return {
    at: new Date().toISOString(),
    found: {
      sources: {
        chest: { ...old?.sources.chest, ...found.sources.chest },
        airway: { ...old?.sources.airway, ...found.sources.airway },
      },
      ...(switchOffset === undefined ? {} : { switchOffset }),
      ...(bounce.bounceMs === undefined ? {} : { bounceMs: bounce.bounceMs }),
      ...(bounce.bounceProblem === undefined ? {} : { bounceProblem: bounce.bounceProblem }),
    },
  };
}

function reasonOf(limit: SwitchCheck['bounceLimitMs']): string | undefined {
  return typeof limit === 'number' ? undefined : limit.reason;
}
