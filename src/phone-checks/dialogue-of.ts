import {
  type Dialogue,
  type FactCode,
  factCodeSchema,
  type GivenAnswer,
  phoneScripts,
  phoneScriptVersionSchema,
  type Script,
  walkScript,
} from '../phone-script/index.ts';
import type { PhoneAnswer } from '../platform/database/generated/client.ts';
import { KNOWN, type WholeCheck } from './whole-check.ts';

/** A stored dialogue as its script reads it. */
export interface ReadDialogue extends Dialogue {
  script: Script;
  known: FactCode[];
}

/** Walks a stored dialogue again, under the script it began with. */
export function dialogueOf({
  scriptVersion,
  answers,
}: Pick<WholeCheck, 'scriptVersion' | 'answers'>): ReadDialogue {
  const script = phoneScripts[phoneScriptVersionSchema.parse(scriptVersion)];
  const known = answers
    .filter(({ questionCode }) => questionCode === KNOWN)
    .map(({ answer }) => factCodeSchema.parse(answer));
  const given = answers.filter(({ questionCode }) => questionCode !== KNOWN).map(toGiven);
  return { script, known, ...walkScript(script, known, given) };
}

function toGiven({ questionCode, answer, numberValue }: PhoneAnswer): GivenAnswer {
  return { question: questionCode, answer, ...(numberValue !== null && { numberValue }) };
}
