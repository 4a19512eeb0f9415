import type { ChartSnapshot } from '../drill-driver.ts';
import type { CallLine } from '../journal.ts';
import type { PlanCall, PlanDrill } from './plan-calls.ts';

/** How the drill's chart stands, as a plan sees it. */
export function planDrillOf(chart: ChartSnapshot): PlanDrill {
  const { called, airway, guidance, cycleMs } = chart.context;
  return {
    stage: stageOf(chart),
    compressor: called.roles.compressor,
    technique: called.technique,
    stance: called.stance,
    airway,
    guidance,
    cycleMs,
  };
}

/** A call line without its time, or null for any other line. */
export function planCallOf(line: { kind: string }): PlanCall | null {
  if (line.kind !== 'call') return null;
  const { kind: _kind, at: _at, ...request } = line as CallLine;
  return request;
}

function stageOf(chart: ChartSnapshot): PlanDrill['stage'] {
  if (chart.matches({ stage: 'notBegun' })) return 'not begun';
  if (chart.matches({ stage: 'resting' })) return 'resting';
  if (chart.matches({ stage: 'checking' })) return 'checking';
  return chart.matches({ stage: 'finished' }) ? 'finished' : 'under way';
}
