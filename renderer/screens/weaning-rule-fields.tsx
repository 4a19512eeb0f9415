import type { ReactElement } from 'react';
import type { WeaningRule } from '../../machines/journal.ts';
import { SOUND_WORDS } from '../../machines/words/screen-sound.ts';

type WeaningRuleFieldsProps = { rule: WeaningRule; onChange: (rule: WeaningRule) => void };
type CyclesProps = {
  label: string;
  of: string;
  rule: { cycles: number; of: number };
  onChange: (rule: { cycles: number; of: number }) => void;
};
/** The most cycles a rule looks at, and the longest it waits: the journal allows no more. */
const MOST_CYCLES = 100;
const MOST_SECONDS = 600;

/** The rule by which a weaned count falls silent and returns; folded, since the defaults will do. */
export function WeaningRuleFields({ rule, onChange }: WeaningRuleFieldsProps): ReactElement {
  return (
    <details className="weaning">
      <summary>{SOUND_WORDS.weaning}</summary>
      <Cycles
        label={SOUND_WORDS.silentAfter}
        of={SOUND_WORDS.coordinated}
        rule={rule.silentAfter}
        onChange={(silentAfter) => onChange({ ...rule, silentAfter })}
      />
      <Cycles
        label={SOUND_WORDS.returnsAfter}
        of={SOUND_WORDS.notCoordinated}
        rule={rule.returnsAfter}
        onChange={(returnsAfter) => onChange({ ...rule, returnsAfter })}
      />
      <p>
        <Whole
          before={SOUND_WORDS.least}
          after={SOUND_WORDS.seconds}
          value={rule.leastMs / 1000}
          least={0}
          most={MOST_SECONDS}
          onChange={(seconds) => onChange({ ...rule, leastMs: seconds * 1000 })}
        />
      </p>
      <p className="note">{SOUND_WORDS.weaningNote}</p>
    </details>
  );
}

function Cycles({ label, of, rule, onChange }: CyclesProps): ReactElement {
  return (
    <p>
      <Whole
        before={label}
        value={rule.cycles}
        least={1}
        most={rule.of}
        onChange={(cycles) => onChange({ ...rule, cycles })}
      />{' '}
      <Whole
        before={of}
        value={rule.of}
        least={rule.cycles}
        most={MOST_CYCLES}
        onChange={(count) => onChange({ ...rule, of: count })}
      />
    </p>
  );
}

type WholeProps = {
  before: string;
  after?: string;
  value: number;
  least: number;
  most: number;
  onChange: (value: number) => void;
};

/** A whole number in its sentence. What is no such number is put back when the field is left. */
function Whole({ before, after, value, least, most, onChange }: WholeProps): ReactElement {
  return (
    <label>
      {before}{' '}
      <input
        type="number"
        min={least}
        max={most}
        defaultValue={value}
        onChange={({ target }) => {
          const chosen = Math.round(target.valueAsNumber);
          if (chosen >= least && chosen <= most) onChange(chosen);
        }}
        onBlur={({ target }) => {
          target.value = String(value);
        }}
      />{' '}
      {after}
    </label>
  );
}
