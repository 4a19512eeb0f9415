import type { ReactElement } from 'react';
import { FLOOR_WORDS } from '../../machines/words/screen-floor.ts';

/** What the last handover cost, a line a step; null before one. */
export function LastHandover({ steps }: { steps: readonly string[] | null }): ReactElement {
  return (
    <section className="last-handover" aria-labelledby="handover-title">
      <h2 id="handover-title">
        {FLOOR_WORDS.lastHandover}{' '}
        {steps === null ? <span className="quiet">{FLOOR_WORDS.noHandover}</span> : null}
      </h2>
      {steps === null ? null : (
        <ul>
          {steps.map((step) => (
            <li key={step}>{step}</li>
          ))}
        </ul>
      )}
    </section>
  );
}
