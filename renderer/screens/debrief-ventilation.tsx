import type { ReactElement } from 'react';
import type { VentilationStageReport } from '../../machines/scoring/ventilation-stage.ts';
import { backSentence, VENTILATION_WORDS, ventilationLines } from '../../machines/words/ventilation-words.ts';
import { FigureGroups } from '../components/figure-groups.tsx';
import { Folded } from '../components/folded.tsx';

type DebriefVentilationProps = {
  stage: VentilationStageReport | null;
  guideline: string;
  onSource: () => void;
};

/** Ventilation before compressions, in figures; nothing where the drill did not begin with it. */
export function DebriefVentilation({
  stage,
  guideline,
  onSource,
}: DebriefVentilationProps): ReactElement | null {
  if (stage === null) return null;
  return (
    <Folded title={VENTILATION_WORDS.title}>
      <p className="note">{VENTILATION_WORDS.note}</p>
      <FigureGroups
        groups={[{ title: VENTILATION_WORDS.caption, lines: ventilationLines(stage, guideline) }]}
        onSource={onSource}
      />
      {stage.backToVentilation.map((back) => (
        <p key={back.startMs}>
          {VENTILATION_WORDS.back} {backSentence(back)}
        </p>
      ))}
    </Folded>
  );
}
