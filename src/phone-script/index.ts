export type { GivenAnswer } from './given-answer.ts';
export { type Dialogue, nextStep, type Step, walkScript } from './next-step.ts';
export type {
  Asks,
  Choice,
  Condition,
  Danger,
  Ending,
  FactCode,
  Question,
  Script,
  ScriptLanguage,
  Section,
  Stop,
  Words,
} from './script.ts';
