import { drillMachine } from '../../machines/drill-machine.ts';

/**
 * Draws the drill's chart as Mermaid text, one diagram a region, from the chart itself.
 * `node dist/tests/tools/draw-charts.js` puts it into DEVELOPERS.md; a test holds the two equal.
 */
export function drawCharts(): string {
  return Object.entries(drillMachine.states)
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

type Node = (typeof drillMachine.states)[keyof typeof drillMachine.states];
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
