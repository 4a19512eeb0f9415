import type { ReactElement } from 'react';
import type { VentilationStageReport } from '../../machines/scoring/ventilation-stage.ts';
import { backSentence, VENTILATION_WORDS, ventilationLines } from '../../machines/words/ventilation-words.ts';
import { FigureGroups } from '../components/figure-groups.tsx';

type DebriefVentilationProps = { stage: VentilationStageReport | null; guideline: string };

/** Ventilation before compressions, in figures; nothing where the drill did not begin with it. */
export function DebriefVentilation({ stage, guideline }: DebriefVentilationProps): ReactElement | null {
  if (stage === null) return null;
  return (
    <section aria-labelledby="ventilation-title">
      <h2 id="ventilation-title">{VENTILATION_WORDS.title}</h2>
      <p className="note">{VENTILATION_WORDS.note}</p>
      <FigureGroups
        groups={[{ title: VENTILATION_WORDS.caption, lines: ventilationLines(stage, guideline) }]}
      />
      {stage.backToVentilation.map((back) => (
        <p key={back.startMs}>
          {VENTILATION_WORDS.back} {backSentence(back)}
        </p>
      ))}
    </section>
  );
}
