import type { ReactElement } from 'react';
import type { Rig } from '../../machines/journal.ts';
import type { Role } from '../../machines/ledger/ledger-entry.ts';
import type { PersonPoint, PersonSeries } from '../../machines/ledger/person-page.ts';
import {
  drawTrend,
  MOST_DRAWN,
  PRIMARY_FIGURES,
  type PrimaryFigure,
  type TrendRange,
  trendRange,
} from '../../machines/ledger/trend-drawing.ts';
import { CAUTIONS, ofCycles, TECHNIQUE_WORDS } from '../../machines/words/english.ts';
import { coldChangeWords, primaryWords } from '../../machines/words/ledger-words.ts';
import { PERSON_WORDS, PRIMARY_FIGURE_WORDS, roleTitle } from '../../machines/words/screen-ledger.ts';
import { Folded } from '../components/folded.tsx';
import { formatShortDay, formatWhen } from '../components/when.ts';
import { TrendChart } from '../sheet/trend-chart.tsx';
import { drillElementId } from './ledger-list.tsx';

type SeriesProps = { role: Role; rig: Rig; series: PersonSeries; onDebrief: (drillId: string) => void };

/** A person in one role on one rig; rigs are never pooled, and cold minutes stand apart. */
export function PersonSeriesView({ role, rig, series, onDebrief }: SeriesProps): ReactElement | null {
  const { trend, cold, coldChange } = series;
  const all = [...trend, ...cold];
  if (all.length === 0) return null;
  const title = roleTitle(role, rig);
  const ranges = Object.fromEntries(
    PRIMARY_FIGURES.map((figure) => [figure, trendRange(figure, all)]),
  ) as Record<PrimaryFigure, TrendRange>;
  return (
    <section className="person-series" aria-label={title}>
      <h2>{title}</h2>
      {rig === 'rhythm' ? <p className="note">{CAUTIONS.rhythm}</p> : null}
      <Stretch title={PERSON_WORDS.trend} of={title} points={trend} ranges={ranges} onDebrief={onDebrief} />
      {cold.length === 0 ? null : (
        <Stretch
          title={PERSON_WORDS.cold}
          of={title}
          points={cold}
          ranges={ranges}
          isCold
          onDebrief={onDebrief}
        />
      )}
      {coldChange === null ? null : <p className="cold-change">{coldChangeWords(coldChange)}.</p>}
    </section>
  );
}

type StretchProps = {
  title: string;
  of: string;
  points: readonly PersonPoint[];
  ranges: Record<PrimaryFigure, TrendRange>;
  isCold?: boolean;
  onDebrief: (drillId: string) => void;
};

function Stretch({ title, of, points, ranges, isCold = false, onDebrief }: StretchProps): ReactElement {
  const [first, last] = [points.slice(-MOST_DRAWN)[0], points.at(-1)];
  if (first === undefined || last === undefined) {
    return (
      <>
        <h3>{title}</h3>
        <p className="quiet">{PERSON_WORDS.nothing}</p>
      </>
    );
  }
  const drawings = PRIMARY_FIGURES.map((figure) => ({
    figure,
    drawing: drawTrend(points, figure, ranges[figure], formatShortDay),
  }));
  const hasBeyond = drawings.some(({ drawing }) => drawing.marks.some(({ isBeyond }) => isBeyond));
  const days = PERSON_WORDS.days(formatShortDay(first.openedAt), formatShortDay(last.openedAt));
  return (
    <>
      <h3>{title}</h3>
      <div className="trends">
        {drawings.map(({ figure, drawing }) => (
          <figure key={figure}>
            <figcaption>{PRIMARY_FIGURE_WORDS[figure]}</figcaption>
            <TrendChart
              drawing={drawing}
              figure={figure}
              isCold={isCold}
              label={PERSON_WORDS.drawing(PRIMARY_FIGURE_WORDS[figure], of, days)}
            />
          </figure>
        ))}
      </div>
      <p className="note">
        {days}. {PERSON_WORDS.drawnNote} {PERSON_WORDS.openNote}
        {hasBeyond ? ` ${PERSON_WORDS.beyondNote}` : ''}
        {points.length > MOST_DRAWN ? ` ${PERSON_WORDS.latestNote}` : ''}
      </p>
      <Folded title={PERSON_WORDS.table(points.length)}>
        {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard */}
        <section className="table-scroll" tabIndex={0} aria-label={`${of}: ${title}`}>
          <PointTable points={points} onDebrief={onDebrief} />
        </section>
      </Folded>
    </>
  );
}

type PointTableProps = { points: readonly PersonPoint[]; onDebrief: (drillId: string) => void };

function PointTable({ points, onDebrief }: PointTableProps): ReactElement {
  return (
    <table className="points">
      <thead>
        <tr>
          <th scope="col">{PERSON_WORDS.when}</th>
          <th scope="col">{PERSON_WORDS.partner}</th>
          <th scope="col">{PERSON_WORDS.technique}</th>
          <th scope="col">{PERSON_WORDS.cycles}</th>
          {PRIMARY_FIGURES.map((figure) => (
            <th scope="col" key={figure}>
              {PRIMARY_FIGURE_WORDS[figure]}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {points.map((point) => (
          <tr key={point.drillId}>
            <th scope="row">
              <button
                type="button"
                className="plain"
                id={drillElementId(point.drillId)}
                onClick={() => onDebrief(point.drillId)}
              >
                {formatWhen(point.openedAt)}
              </button>
            </th>
            <td>{point.partner}</td>
            <td>{point.techniques.map((technique) => TECHNIQUE_WORDS[technique]).join(', ')}</td>
            <td>{ofCycles(point.coordinated, point.cycles)}</td>
            {primaryWords(point).map((words, index) => (
              <td key={PRIMARY_FIGURES[index]}>{words}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
