import { type ReactElement, useEffect, useState, useSyncExternalStore } from 'react';
import { type Decision, PERSONS, type Person } from '../../machines/journal.ts';
import { fileProblemWords } from '../../machines/json-file.ts';
import { type Assessment, assess } from '../../machines/standard/assess.ts';
import { STANDARD_FORM } from '../../machines/standard/standard-file.ts';
import { DECISIONS } from '../../machines/vocabulary.ts';
import { DECISION_WORDS, signatureSentence } from '../../machines/words/signature-words.ts';
import {
  leftOutSentence,
  overallWords,
  partsOf,
  STANDARD_WORDS,
  STATUS_WORDS,
} from '../../machines/words/standard-words.ts';
import { readChosenFile } from '../adapters/chosen-files.ts';
import type { DebriefData } from '../app/debrief-data.ts';
import { EXAMPLE_ID, type StandardShelf } from '../app/standard-shelf.ts';
import { Folded } from '../components/folded.tsx';
import { PlainTable } from '../components/plain-table.tsx';
import { TakeFile } from '../components/take-file.tsx';

export type Signing = { person: Person; by: string; standard: string; decision: Decision };

type DebriefStandardProps = { data: DebriefData; shelf: StandardShelf; onSign: (signing: Signing) => void };

/** Each learner's drill against the course's own standard: met, not yet, not assessed. The instructor decides, and signs. */
export function DebriefStandard(props: DebriefStandardProps): ReactElement {
  return (
    <Folded title={STANDARD_WORDS.title} id="standard" isLazy>
      <Assessments {...props} />
    </Folded>
  );
}

function Assessments({ data, shelf, onSign }: DebriefStandardProps): ReactElement {
  useSyncExternalStore(shelf.subscribe, () => shelf.version);
  useEffect(() => void shelf.load(), [shelf]);
  const [id, setId] = useState<string | null>(null);
  const [by, setBy] = useState('');
  const [refusal, setRefusal] = useState<string | null>(null);
  const { all } = shelf;
  const chosen = all.find((one) => one.id === id) ?? all[0];
  const takeIn = async (file: File) => {
    const parsed = await readChosenFile(file, STANDARD_FORM);
    if (parsed === null) return setRefusal(STANDARD_WORDS.notRead(file.name));
    if (!parsed.ok) return setRefusal(STANDARD_WORDS.refused(file.name, fileProblemWords(parsed.problem)));
    setRefusal(null);
    // One of the same name is an earlier form of it: two of a name could not be told apart.
    const before = shelf.stored.find(({ standard }) => standard?.name === parsed.value.name);
    setId(await shelf.save(before?.fileName ?? null, parsed.value));
  };
  const notCounted = leftOutSentence(data.evidence);
  return (
    <>
      <p className="note">{STANDARD_WORDS.counts}</p>
      <div className="standard-choice">
        <label>
          <span className="field-label">{STANDARD_WORDS.which}</span>
          <select value={chosen?.id ?? EXAMPLE_ID} onChange={({ target }) => setId(target.value)}>
            {all.map((one) => (
              <option key={one.id} value={one.id}>
                {one.standard.name}
              </option>
            ))}
          </select>
        </label>
        <TakeFile label={STANDARD_WORDS.take} onFile={(file) => void takeIn(file)} />
      </div>
      <p className="problem" role="alert">
        {refusal ?? shelf.problem}
      </p>
      {shelf.stored.map(({ fileName, problem }) =>
        problem === null ? null : (
          <p className="problem" key={fileName}>
            {STANDARD_WORDS.refused(fileName, problem)}
          </p>
        ),
      )}
      {chosen?.standard.note === undefined ? null : <p className="note">{chosen.standard.note}</p>}
      {notCounted === null ? null : <p>{notCounted}</p>}
      {chosen === undefined || data.open.rig === 'rhythm' ? null : (
        <>
          <label>
            <span className="field-label">{STANDARD_WORDS.by}</span>
            <input type="text" maxLength={80} value={by} onChange={({ target }) => setBy(target.value)} />
          </label>
          {PERSONS.map((person) => (
            <ForPerson
              key={person}
              data={data}
              person={person}
              assessment={assess(chosen.standard, [{ person, evidence: data.evidence }])}
              canSign={by.trim() !== ''}
              onSign={(decision) =>
                onSign({ person, by: by.trim(), standard: chosen.standard.name, decision })
              }
            />
          ))}
        </>
      )}
      <p className="note">{STANDARD_WORDS.decides}</p>
    </>
  );
}

type ForPersonProps = {
  data: DebriefData;
  person: Person;
  assessment: Assessment;
  canSign: boolean;
  onSign: (decision: Decision) => void;
};

function ForPerson({ data, person, assessment, canSign, onSign }: ForPersonProps): ReactElement {
  const name = data.open.people[person];
  const signed = signatureSentence(data.report.drill.signatures[person], name);
  return (
    <section aria-label={STANDARD_WORDS.of(name)}>
      <PlainTable
        kind="compared"
        caption={`${name}: ${overallWords(assessment)}`}
        columns={[STANDARD_WORDS.asked, STANDARD_WORDS.limit, STANDARD_WORDS.found, STANDARD_WORDS.status]}
        rows={assessment.findings.map((finding) => {
          const { what, found, asked, why } = partsOf(finding);
          const status = (
            <>
              {STATUS_WORDS[finding.status]}
              {why === '' ? null : <span className="quiet">, {why}</span>}
            </>
          );
          return { head: what, cells: [{ quiet: asked }, found, status] };
        })}
      />
      {/* biome-ignore lint/a11y/useSemanticElements: a fieldset is for fields, and these are three answers */}
      <div className="sign-buttons" role="group" aria-label={STANDARD_WORDS.sign(name)}>
        <span>{STANDARD_WORDS.sign(name)}</span>
        {DECISIONS.map((decision) => (
          <button key={decision} type="button" disabled={!canSign} onClick={() => onSign(decision)}>
            {DECISION_WORDS[decision]}
          </button>
        ))}
        {canSign ? null : <span className="quiet">{STANDARD_WORDS.nameFirst}</span>}
      </div>
      <p role="status">{signed}</p>
    </section>
  );
}
