/** Words of the station's two windows. */
export const WINDOW_WORDS = {
  waitingTitle: 'Learners’ window',
  waiting: 'The drill is shown here as soon as it is started in the instructor’s window.',
  openLearners: 'Open the learners’ window',
  openInstructor: 'Open the instructor’s window',
} as const;
