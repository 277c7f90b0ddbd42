/**
 * An answer as it is kept: `yes`, `no`, the code of a choice, several codes joined by commas, `none`,
 * `number` with its value, or `unknown`.
 */
export interface GivenAnswer {
  question: string;
  answer: string;
  numberValue?: number;
}
