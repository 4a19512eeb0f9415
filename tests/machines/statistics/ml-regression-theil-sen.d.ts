/** The package ships no types; these are the parts a test uses. */
declare module 'ml-regression-theil-sen' {
  export class TheilSenRegression {
    constructor(x: number[], y: number[]);
    readonly slope: number;
  }
}
