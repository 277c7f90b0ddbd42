import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';

const root = path.resolve(import.meta.dirname, '../..');
const linesOf = (file: string) => readFileSync(path.join(root, file), 'utf8').split('\n');

describe('the image (OWASP ASVS 5.0, 13.3.1, 13.4.1, 13.4.2 and 15.2.3)', () => {
  const instructions = linesOf('Dockerfile').filter((line) => /^[A-Z]+ /.test(line));
  const copied = instructions
    .filter((line) => line.startsWith('COPY ') && !line.includes('--from='))
    .flatMap((line) => line.split(/\s+/).slice(1, -1));

  it('is made without history, data, tests and invented people', () => {
    expect(linesOf('.dockerignore')).toEqual(
      expect.arrayContaining(['.git', '.data', 'tests', 'seed', 'node_modules']),
    );
  });

  it('takes what runs by its name, and never the whole folder', () => {
    expect(copied).toContain('src');
    for (const name of copied) {
      expect(name).toMatch(/^[\w.-]*\w$/);
      expect(['tests', 'seed', '.git', '.data', '.env']).not.toContain(name);
    }
  });

  it('runs as nobody in particular, as in production, and holds no secret', () => {
    expect(instructions).toContain('USER node');
    expect(instructions.join('\n')).toMatch(/^ENV NODE_ENV=production /m);
    expect(instructions.join('\n')).not.toMatch(/PASSWORD|TOKEN|SECRET|DATABASE_URL/);
    expect(instructions.filter((line) => line.startsWith('ARG '))).toEqual([]);
  });
});
