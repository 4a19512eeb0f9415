import type { ReactElement } from 'react';
import { CAUTIONS } from '../../machines/words/english.ts';
import { GUIDE_SECTIONS, GUIDE_WORDS } from '../../machines/words/rig-guide.ts';
import { RigDrawing } from '../components/rig-drawings.tsx';

/** The build-the-rig guide: to be read here, or printed and taken to the bench. */
export function RigGuide({ onBack }: { onBack: () => void }): ReactElement {
  return (
    <main className="rig-guide">
      <header>
        <h1>{GUIDE_WORDS.title}</h1>
        <p>{GUIDE_WORDS.intro}</p>
        <p className="guide-actions">
          {/* biome-ignore lint/a11y/noAutofocus: the page has just been opened, and its way back comes first */}
          <button type="button" className="plain" autoFocus onClick={onBack}>
            {GUIDE_WORDS.back}
          </button>
          <button type="button" className="plain" onClick={() => window.print()}>
            {GUIDE_WORDS.print}
          </button>
        </p>
      </header>
      {GUIDE_SECTIONS.map(({ title, drawings, points }) => (
        <section key={title}>
          <h2>{title}</h2>
          {drawings.length === 0 ? null : (
            <div className="rig-drawings">
              {drawings.map(({ name, caption }) => (
                <figure key={name}>
                  <RigDrawing name={name} label={caption} />
                  <figcaption className="note">{caption}</figcaption>
                </figure>
              ))}
            </div>
          )}
          <ul>
            {points.map((point) => (
              <li key={point}>{point}</li>
            ))}
          </ul>
        </section>
      ))}
      <footer>
        <p className="cautions">
          {CAUTIONS.newlyBorn} {CAUTIONS.purpose}
        </p>
      </footer>
    </main>
  );
}
