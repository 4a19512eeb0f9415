import { describe, expect, it } from 'vitest';
import { reportCsv } from '../../electron/exports/report-csv.ts';
import { reportHtml } from '../../electron/exports/report-html.ts';
import { reportText } from '../../electron/exports/report-text.ts';
import type { SignatureLine } from '../../machines/journal.ts';
import { signatureOf } from '../../machines/remarks.ts';
import { replay } from '../../machines/replay.ts';
import { JournalBuilder } from '../support/journal-builder.ts';
import { eightCycles, markOf, scoreOf } from '../support/marked-drills.ts';

const SIGNATURE: SignatureLine = {
  kind: 'signature',
  person: 'A',
  at: 90_000,
  signedAt: '2026-03-02T10:04:05.000Z',
  by: 'Cleo',
  standard: 'The course’s own',
  decision: 'met',
};

describe('a signature', () => {
  it('is the latest, in the report and its files, and in none before', () => {
    const signed = eightCycles()
      .line({ ...SIGNATURE, decision: 'not yet' })
      .line(SIGNATURE);
    const scored = scoreOf(signed);
    const { kind: _kind, at: _at, person: _person, ...signature } = SIGNATURE;
    expect(scoreOf(eightCycles()).report.drill.signatures).toEqual({ A: null, B: null });
    expect(scored.report.drill.signatures).toEqual({ A: signature, B: null });
    expect(signatureOf(replay(signed.open, signed.lines), 'A')).toEqual(SIGNATURE);
    const words = 'Signed for Ada by Cleo, 2026-03-02 10:04 UTC: the standard “The course’s own” is met.';
    expect(reportText('a', scored)).toContain(words);
    expect(reportHtml('a', scored)).toContain(words);
    expect(reportCsv('a', scored)).toContain(',signature.decision,met,');
    expect(reportCsv('a', scored)).not.toContain('Cleo');
  });
  it('is no sign-off of a rhythm drill', () => {
    const builder = new JournalBuilder({ rig: 'rhythm' }).call(0, 'begin').line(SIGNATURE);
    const { drill, warnings } = scoreOf(builder).report;
    expect(drill.signatures).toEqual({ A: null, B: null });
    expect(warnings).toContain('line 3: signature was ignored: no sign-off rests on a rhythm rig');
  });
  it('warns when other cycles are left out than when it was given', () => {
    const warning = 'cycles were marked after the signature: what was signed had other figures';
    const signed = () => eightCycles().line(markOf(7000)).line(SIGNATURE);
    expect(scoreOf(signed()).report.warnings).toEqual([]);
    expect(scoreOf(signed().line(markOf(1000))).report.warnings).toEqual([warning]);
    expect(scoreOf(signed().line(markOf(7000, false))).report.warnings).toEqual([warning]);
    expect(scoreOf(signed().line(markOf(1000)).line(markOf(1000, false))).report.warnings).toEqual([]);
  });
});
