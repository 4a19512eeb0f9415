import { drillMachine } from '../../machines/drill-machine.ts';
import { planRunner } from '../../machines/plans/plan-runner.ts';
import { rigCheckMachine } from '../../machines/rig-check/rig-check-machine.ts';

/**
 * Draws the charts as Mermaid text, one diagram a region of the drill's and one each for the rig check and a plan, from the charts themselves.
 * `node dist/tests/tools/draw-charts.js` puts them into DEVELOPERS.md; a test holds the two equal.
 */
export function drawCharts(): string {
  const regions: [string, Node][] = [
    ...Object.entries(drillMachine.states),
    ['rig check', rigCheckMachine.root],
    ['plan', planRunner.root],
  ];
  return regions
    .filter(([, region]) => Object.keys(region.states).length > 0)
    .map(([name, region]) => {
      const lines = ['```mermaid', 'stateDiagram-v2'];
      const initial = region.initial.target?.[0]?.key;
      if (initial !== undefined) lines.push(`  [*] --> ${initial}`);
      for (const state of Object.values(region.states)) {
        lines.push(
          ...arrowsOf(
            state.key,
            state.ownEvents.flatMap((event) => transitionsOf(state, event)),
          ),
        );
        lines.push(
          ...arrowsOf(
            state.key,
            (state.always ?? []).map((transition) => ({ ...transition, eventType: 'at once' })),
          ),
        );
      }
      for (const event of region.ownEvents) {
        for (const state of Object.keys(region.states))
          lines.push(...arrowsOf(state, transitionsOf(region, event)));
      }
      return `#### ${name}\n\n${[...lines, '```'].join('\n')}`;
    })
    .join('\n\n');
}

/** What of a chart's node is drawn. */
type Node = {
  readonly key: string;
  readonly states: Readonly<Record<string, Node>>;
  readonly initial: { readonly target?: readonly { readonly key: string }[] | undefined };
  readonly ownEvents: readonly string[];
  readonly always?: readonly Omit<Arrow, 'eventType'>[] | undefined;
  readonly transitions: ReadonlyMap<string, readonly Arrow[]>;
};
type Arrow = {
  eventType: string;
  target?: readonly { key: string }[] | undefined;
  guard?: unknown;
  actions?: readonly unknown[];
};

function transitionsOf(node: Node, event: string): Arrow[] {
  return [...(node.transitions.get(event) ?? [])];
}

function arrowsOf(from: string, arrows: readonly Arrow[]): string[] {
  return arrows.map(({ eventType, target, guard }) => {
    const condition = guardName(guard);
    return `  ${from} --> ${target?.[0]?.key ?? from}: ${eventType}${condition === '' ? '' : ` [${condition}]`}`;
  });
}

/** A guard's name; a combined guard's names joined. */
function guardName(guard: unknown): string {
  if (guard === undefined) return '';
  if (typeof guard === 'string') return guard;
  if (typeof guard === 'function') {
    const parts = (guard as { guards?: unknown[] }).guards;
    return parts === undefined ? 'otherwise said in the chart' : parts.map(guardName).join(' and ');
  }
  return (guard as { type?: string }).type ?? '';
}
