import { mkdir, mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { writeEml } from '../../src/delivery/write-eml.ts';

const mail = {
  from: 'office@company.example',
  to: 'marisol@customer.example',
  bytes: Buffer.from('Subject: quote\r\n\r\nthe mail\r\n'),
};

let directory: string;
beforeEach(async () => {
  directory = await mkdtemp(path.join(tmpdir(), 'evenhand-eml-'));
});
afterEach(() => rm(directory, { recursive: true, force: true }));

let marks = 0;
function write(into: string, change: { isOurs?: boolean; signal?: AbortSignal } = {}) {
  marks = 0;
  const handOver = async () => {
    marks += 1;
    return change.isOurs ?? true;
  };
  const signal = change.signal ?? new AbortController().signal;
  return writeEml(into, 'delivery.eml', mail, { handOver, signal });
}

test('a mail is there whole, for nobody but its owner, and nothing is beside it', async () => {
  expect(await write(directory)).toEqual({ outcome: 'sent' });
  expect(await readdir(directory)).toEqual(['delivery.eml']);
  const file = path.join(directory, 'delivery.eml');
  expect(await readFile(file)).toEqual(mail.bytes);
  expect((await stat(file)).mode & 0o777).toBe(0o600);
});

test('a folder that is gone is made again', async () => {
  const gone = path.join(directory, 'a', 'mail');
  expect(await write(gone)).toEqual({ outcome: 'sent' });
  expect((await stat(gone)).mode & 0o777).toBe(0o700);
});

describe('what cannot be written is tried again, and not marked as handed over', () => {
  test('where a file stands in the place of the folder', async () => {
    const taken = path.join(directory, 'mail');
    await writeFile(taken, 'a file');
    expect(await write(taken)).toEqual({
      outcome: 'try_again',
      reason: 'The file could not be written (EEXIST).',
    });
    expect(marks).toBe(0);
    expect(await readFile(taken, 'utf8')).toBe('a file');
  });

  test('where the folder lies below a file', async () => {
    const taken = path.join(directory, 'data');
    await writeFile(taken, 'a file');
    expect(await write(path.join(taken, 'mail'))).toMatchObject({
      outcome: 'try_again',
      reason: 'The file could not be written (ENOTDIR).',
    });
  });

  test('where the name of what is written aside is a folder', async () => {
    await mkdir(path.join(directory, '.delivery.eml.part'));
    expect(await write(directory)).toMatchObject({ outcome: 'try_again' });
    expect(marks).toBe(0);
  });
});

test('what is somebody else’s by now, or ended, leaves nothing behind', async () => {
  expect(await write(directory, { isOurs: false })).toMatchObject({ outcome: 'try_again' });
  expect(await write(directory, { signal: AbortSignal.abort() })).toMatchObject({
    outcome: 'try_again',
  });
  expect(await readdir(directory)).toEqual([]);
});

test('a mark that could not be written leaves nothing behind', async () => {
  const handOver = () => Promise.reject(new Error('the database is away'));
  const { signal } = new AbortController();
  await expect(writeEml(directory, 'delivery.eml', mail, { handOver, signal })).rejects.toThrow();
  expect(await readdir(directory)).toEqual([]);
});

test('what was handed over and has no place is for a person to look at, and not half there', async () => {
  // A folder that holds something gives its name to no file.
  await mkdir(path.join(directory, 'delivery.eml', 'x'), { recursive: true });
  expect(await write(directory)).toMatchObject({ outcome: 'unsure' });
  expect(marks).toBe(1);
  expect((await stat(path.join(directory, 'delivery.eml'))).isDirectory()).toBe(true);
  expect(await readdir(directory)).toEqual(['delivery.eml']);
});
