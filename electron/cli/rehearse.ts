import { parseArgs } from 'node:util';
import { BINDINGS, formatLine, GUIDANCES } from '../../machines/journal.ts';
import { READY_MADE, READY_MADE_NAMES } from '../../machines/plans/ready-made.ts';
import { REHEARSAL_PLANS } from '../../machines/rehearsal/plans.ts';
import { type RehearsalOptions, rehearse } from '../../machines/rehearsal/rehearse.ts';
import { BAD_CALL, BAD_INPUT, DONE, type Io } from './io.ts';
import { writeWhole } from './write-whole.ts';

/** The seed when none is given: a fixed one, so that the demo is the same everywhere. */
const DEFAULT_SEED = 1;

/** `rehearse`: writes a synthetic pair's journal to standard output, or whole to a file. */
export async function rehearseCommand(args: string[], io: Io): Promise<number> {
  const asked = parseRehearseArgs(args);
  if (typeof asked === 'string') {
    io.err(`antiphon rehearse: ${asked}\n`);
    return BAD_CALL;
  }
  let text: string;
  try {
    const { open, lines } = rehearse(asked.options);
    text = [open, ...lines].map((line) => `${formatLine(line)}\n`).join('');
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    io.err(`antiphon rehearse: ${error.message}\n`);
    return BAD_CALL;
  }
  if (asked.out === null) {
    io.out(text);
    return DONE;
  }
  const problem = await writeWhole(asked.out, text);
  if (problem === null) return DONE;
  io.err(`${asked.out}: ${problem}\n`);
  return BAD_INPUT;
}

type RehearseArgs = {
  options: Pick<RehearsalOptions, 'seed' | 'minutes' | 'plan' | 'binding' | 'guidance'>;
  out: string | null;
};

function parseRehearseArgs(args: string[]): RehearseArgs | string {
  const text = { type: 'string' } as const;
  let values: {
    seed?: string;
    minutes?: string;
    plan?: string;
    binding?: string;
    guidance?: string;
    out?: string;
  };
  try {
    const options = { seed: text, minutes: text, plan: text, binding: text, guidance: text, out: text };
    values = parseArgs({ args, options }).values;
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
  const seed = values.seed === undefined ? DEFAULT_SEED : wholeNumber(values.seed);
  if (seed === null) return `--seed is a whole number from 0, not ${values.seed}`;
  const options: RehearseArgs['options'] = { seed };
  if (values.minutes !== undefined) {
    const minutes = Number(values.minutes);
    if (values.minutes.trim() === '' || !Number.isFinite(minutes))
      return `--minutes is a number, not ${values.minutes}`;
    options.minutes = minutes;
  }
  const plan = choice('plan', [...REHEARSAL_PLANS, ...READY_MADE_NAMES], values.plan);
  const binding = choice('binding', BINDINGS, values.binding);
  const guidance = choice('guidance', GUIDANCES, values.guidance);
  for (const chosen of [plan, binding, guidance]) if (chosen !== null && !chosen.ok) return chosen.problem;
  if (plan?.ok) options.plan = plan.value;
  if (values.minutes !== undefined && Object.hasOwn(READY_MADE, options.plan ?? ''))
    return `--minutes does not go with ${options.plan}, which has its own length`;
  if (binding?.ok) options.binding = binding.value;
  if (guidance?.ok) options.guidance = guidance.value;
  return { options, out: values.out ?? null };
}

type Choice<T> = { ok: true; value: T } | { ok: false; problem: string } | null;

function choice<T extends string>(name: string, choices: readonly T[], given: string | undefined): Choice<T> {
  if (given === undefined) return null;
  const value = choices.find((one) => one === given);
  return value === undefined
    ? { ok: false, problem: `--${name} is one of ${choices.join(', ')}, not ${given}` }
    : { ok: true, value };
}

function wholeNumber(text: string): number | null {
  return /^\d{1,15}$/.test(text) ? Number(text) : null;
}
