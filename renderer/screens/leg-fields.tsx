import type { ReactElement } from 'react';
import type { Called, Leg } from '../../machines/plans/plan.ts';
import { check, practise, rest, ventilation } from '../../machines/plans/ready-made.ts';
import { AIRWAY_WORDS, GUIDANCE_WORDS, STANCE_WORDS } from '../../machines/words/english.ts';
import {
  CALLED_CHOICES,
  COMPRESSOR_CHOICES,
  LEG_KIND_CHOICES,
  PLAN_FORM_WORDS,
  TECHNIQUE_FORM_CHOICES,
} from '../../machines/words/screen-plans.ts';
import { NumberField, SelectField, TextField } from '../components/labelled-fields.tsx';

type LegFieldsProps = { number: number; leg: Leg; isLast: boolean; onChange: (leg: Leg) => void };

/** One leg's fields: those its kind has. */
export function LegFields({ number, leg, isLast, onChange }: LegFieldsProps): ReactElement {
  return (
    <fieldset>
      <legend>{PLAN_FORM_WORDS.leg(number)}</legend>
      <div className="leg-fields">
        <SelectField
          label={PLAN_FORM_WORDS.kind}
          words={LEG_KIND_CHOICES}
          value={leg.kind}
          onChange={(kind) => onChange(asKind(leg, kind))}
        />
        <OwnFields leg={leg} onChange={onChange} />
        <NumberField
          label={PLAN_FORM_WORDS.seconds}
          value={leg.seconds}
          onChange={(seconds) => onChange({ ...leg, seconds: seconds ?? 0 })}
        />
        <CalledFields
          label={isLast ? PLAN_FORM_WORDS.finish : PLAN_FORM_WORDS.next}
          called={leg.next}
          onChange={(next) => onChange({ ...leg, next })}
        />
        <TextField
          label={PLAN_FORM_WORDS.note}
          value={leg.note ?? ''}
          maxLength={200}
          onChange={(note) => onChange(withNote(leg, note))}
        />
      </div>
    </fieldset>
  );
}

type OwnFieldsProps = { leg: Leg; onChange: (leg: Leg) => void };

function OwnFields({ leg, onChange }: OwnFieldsProps): ReactElement | null {
  if (leg.kind === 'rest') return null;
  if (leg.kind === 'check') {
    return (
      <NumberField
        label={PLAN_FORM_WORDS.heartRate}
        value={leg.heartRateBpm}
        onChange={(heartRateBpm) => onChange({ ...leg, heartRateBpm })}
      />
    );
  }
  return (
    <>
      <SelectField
        label={PLAN_FORM_WORDS.compressor}
        words={COMPRESSOR_CHOICES}
        value={leg.compressor}
        onChange={(compressor) => onChange({ ...leg, compressor })}
      />
      <SelectField
        label={PLAN_FORM_WORDS.airway}
        words={AIRWAY_WORDS}
        value={leg.airway}
        onChange={(airway) => onChange({ ...leg, airway })}
      />
      {leg.kind === 'ventilation' ? null : (
        <>
          <SelectField
            label={PLAN_FORM_WORDS.technique}
            words={TECHNIQUE_FORM_CHOICES}
            value={leg.technique}
            onChange={(technique) => onChange({ ...leg, technique })}
          />
          <SelectField
            label={PLAN_FORM_WORDS.stance}
            words={STANCE_WORDS}
            value={leg.stance}
            onChange={(stance) => onChange({ ...leg, stance })}
          />
          <SelectField
            label={PLAN_FORM_WORDS.guidance}
            words={GUIDANCE_WORDS}
            value={leg.guidance}
            onChange={(guidance) => onChange({ ...leg, guidance })}
          />
          <NumberField
            label={PLAN_FORM_WORDS.cycle}
            value={leg.cycleMs}
            onChange={(cycleMs) => onChange({ ...leg, cycleMs: cycleMs ?? 0 })}
          />
        </>
      )}
    </>
  );
}

type CalledFieldsProps = { label: string; called: Called; onChange: (called: Called) => void };
/** Tool default. */
const WARNING_SECONDS = 10;

/** By itself after a warning, or by the instructor. */
export function CalledFields({ label, called, onChange }: CalledFieldsProps): ReactElement {
  return (
    <>
      <SelectField
        label={label}
        words={CALLED_CHOICES}
        value={called.by}
        onChange={(by) =>
          onChange(by === 'itself' ? { by, warningSeconds: WARNING_SECONDS } : { by: 'instructor' })
        }
      />
      {called.by === 'instructor' ? null : (
        <NumberField
          label={PLAN_FORM_WORDS.warning}
          value={called.warningSeconds}
          onChange={(seconds) => onChange({ by: 'itself', warningSeconds: seconds ?? -1 })}
        />
      )}
    </>
  );
}

/** Another kind of leg in this one's place: what both have is kept. */
function asKind(leg: Leg, kind: Leg['kind']): Leg {
  const { seconds, next, note } = leg;
  const kept = { seconds, next, ...(note === undefined ? {} : { note }) };
  switch (kind) {
    case 'rest':
      return { ...rest(), ...kept };
    case 'check':
      return { ...check(null), ...kept };
    case 'ventilation':
      return { ...ventilation(), ...kept };
    case 'practise':
      return practise(kept);
  }
}

function withNote(leg: Leg, note: string): Leg {
  const { note: _before, ...bare } = leg;
  return note === '' ? bare : { ...bare, note };
}
