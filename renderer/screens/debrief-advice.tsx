import type { ReactElement } from 'react';
import type { Person } from '../../machines/journal.ts';
import {
  ADVICE_WORDS,
  type AdviceSentence,
  type AdviceSentences,
  adviceSentences,
} from '../../machines/words/advice-words.ts';
import type { DebriefData } from '../app/debrief-data.ts';
import { Folded } from '../components/folded.tsx';

/** What went well, and one thing to try: what was not seen comes before anything the switches say. */
export function DebriefAdvice({ data }: { data: DebriefData }): ReactElement {
  const sentences = adviceSentences(data.advice, data.open.people);
  const { tick, people, pair, praise, next } = sentences;
  return (
    <section className="advice" aria-labelledby="advice-title">
      {praise.length === 0 ? null : (
        <>
          <h2>{ADVICE_WORDS.praise}</h2>
          <Sentences of={praise} />
        </>
      )}
      <h2 id="advice-title">{ADVICE_WORDS.title}</h2>
      {tick === null ? null : <p className="tick-first">{tick.text}</p>}
      <Sentences of={[...people, ...(pair === null ? [] : [pair])]} />
      <p>{next}</p>
      <Figures of={sentences} />
    </section>
  );
}

/** On a learner's own page: what is theirs, and the pair's. */
export function AdviceFor({ data, person }: { data: DebriefData; person: Person }): ReactElement {
  const { tick, people, pair, next } = adviceSentences(data.advice, data.open.people);
  const own = people.filter((one) => one.person === person);
  return (
    <section className="advice">
      <h2>{ADVICE_WORDS.title}</h2>
      {tick === null ? null : <p className="tick-first">{tick.text}</p>}
      <Sentences of={[...own, ...(pair === null ? [] : [pair])]} />
      <p>{next}</p>
    </section>
  );
}

function Sentences({ of }: { of: readonly AdviceSentence[] }): ReactElement {
  return (
    <ul>
      {of.map(({ text }) => (
        <li key={text}>{text}</li>
      ))}
    </ul>
  );
}

/** The figures and the rows behind each sentence, for the instructor. */
function Figures({ of }: { of: AdviceSentences }): ReactElement | null {
  const said = [of.headline, ...of.praise, ...of.people, of.pair].flatMap((one) =>
    one === null || one.figures === null ? [] : [{ text: one.text, figures: one.figures }],
  );
  if (said.length === 0) return null;
  return (
    <Folded title={ADVICE_WORDS.figures}>
      <ul>
        {said.map(({ text, figures }) => (
          <li key={text}>
            <span className="quiet">{text}</span> {figures}
          </li>
        ))}
      </ul>
    </Folded>
  );
}
