import { describe, expect, it } from 'vitest';
import { judgeScript } from './judge-script.ts';
import { judgeWords } from './judge-words.ts';
import {
  forbiddenScripts,
  hiddenScripts,
  misbuiltScripts,
  soundScript,
  warnings,
} from './planted-scripts.ts';

const found = (script: typeof soundScript) =>
  [...judgeScript(script), ...judgeWords(script)].map(({ finding }) => finding);

describe('the judge of the phone checks', () => {
  it('has nothing against a sound script', () => {
    expect([...judgeScript(soundScript), ...judgeWords(soundScript)]).toEqual([]);
  });

  it.each(forbiddenScripts)('finds what %s: %s', (finding, _, script) => {
    const findings = judgeWords(script).map((each) => each.finding);
    expect(findings).toEqual([finding]);
  });

  it.each(warnings)('lets a warning pass: %s %s', (en, es) => {
    const { endings } = soundScript;
    const warned = { ...endings, warned: { outcome: 'solved', words: { en, es } } as const };
    expect(found({ ...soundScript, endings: warned })).toEqual([]);
  });

  it.each(hiddenScripts)('reads %s too', (_, script) => {
    expect(found(script)).toContain('opens');
  });

  it.each(misbuiltScripts)('finds %s in a script that %s', (finding, _, script) => {
    expect(found(script)).toContain(finding);
  });
});
