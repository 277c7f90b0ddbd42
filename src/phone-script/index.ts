export { dangerQuestionsOf } from './danger-questions-of.ts';
export type { GivenAnswer } from './given-answer.ts';
export { isAtReset } from './is-at-reset.ts';
export { isDangerQuestion } from './is-danger-question.ts';
export { mayBeCorrected } from './may-be-corrected.ts';
export { mayBeSolved } from './may-be-solved.ts';
export { type Dialogue, nextStep, type Step, walkScript } from './next-step.ts';
export { observedIn } from './observed-in.ts';
export {
  currentPhoneScript,
  type PhoneScriptVersion,
  phoneScripts,
  phoneScriptVersionSchema,
} from './phone-scripts.ts';
export { type AnswerRefusal, readAnswer, type TypedAnswer } from './read-answer.ts';
export {
  type Asks,
  type Choice,
  type Condition,
  type Danger,
  type Ending,
  type FactCode,
  factCodeSchema,
  type Question,
  type Script,
  type ScriptLanguage,
  type Section,
  type Stop,
  scriptLanguageSchema,
  type Words,
} from './script.ts';
export { type Told, toldIn } from './told-in.ts';
export { tripsAgain } from './trips-again.ts';
