export const PAPER_SIZES = ['a4', 'letter'] as const;
export type PaperSize = (typeof PAPER_SIZES)[number];

export const PAPER_WORDS = {
  title: 'Paper',
  size: 'Paper size',
  sizes: { a4: 'A4', letter: 'Letter' } satisfies Record<PaperSize, string>,
  namesOut: 'Leave the names out',
  namesOutNote: 'On paper and in files the pair is then “A” and “B”.',
  print: 'Print',
  save: 'Save as PDF',
  notSaved: (why: string) => `Not saved as PDF: ${why}`,
  note: 'One page for the pair with a line to sign, the sheet, and one page for each learner.',
  report: 'Report of a drill',
  sheet: (page: number, of: number) => (of === 1 ? 'Sheet' : `Sheet, page ${page} of ${of}`),
  sign: 'What the switches measured is timing only. What the instructor saw, and decides, is the instructor’s:',
  signLine: ['Instructor’s name', 'Date and time', 'Signature'],
  learner: (name: string) => `For ${name}`,
} as const;
