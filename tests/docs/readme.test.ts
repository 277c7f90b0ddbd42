import { execFile, spawn } from 'node:child_process';
import { mkdtemp, readdir, readFile, rm, symlink } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { curlIfMissing } from './curl-if-missing.ts';

const run = promisify(execFile);
const root = path.resolve(import.meta.dirname, '../..');

/** The demo as README starts it, on a data directory of its own and a free port. */
interface Demo {
  folder: string;
  output: string;
  stop(): Promise<number | null>;
}

let demo: Demo;
beforeAll(async () => {
  demo = await startDemo();
}, 240_000);
afterAll(async () => {
  await demo.stop();
  await rm(demo.folder, { recursive: true, force: true });
});

describe('the README keeps its word', () => {
  it('the demo tells seven endings, and a reset costs the visit fee and nothing else', () => {
    expect(demo.output).toMatch(/\$0\.00 {2}Solved by phone/);
    expect(demo.output).toMatch(/\$89\.00 {2}Breaker reset: fee \$89\.00;/);
    expect(demo.output).toMatch(/Plugged drain/);
    expect(demo.output).toMatch(/Failed capacitor, worn contactor/);
    expect(demo.output).toMatch(/\$619\.93 {2}Low charge/);
    expect(demo.output).toMatch(/\$89\.00 {2}Quote declined/);
    expect(demo.output).toMatch(/\$0\.00 {2}Waiting for an answer/);
  });

  it('the hottest day is told from the name heard wrong to the calendar, and ends with a true board', () => {
    for (const said of [
      /"brockelsby" typed, found: Tilda Brocklesby, 4 Foundry Lane/,
      /Egbert Dunmallow smells gas: no more questions\. Read aloud:\n +"Hang up now/,
      /\n +1 {2}Egbert Dunmallow: Danger: gas; .*\n +2 {2}Rosalind Thackeray-Hume: /,
      /Egbert Dunmallow cannot be booked yet: The phone checks stopped in danger/,
      /Egbert Dunmallow: .* minutes of work, fee \$89\.00 agreed\n +\S+ \S+ is \d+ minutes away/,
      /Tilda Brocklesby asks for a later window: 10:00 AM to 12:00 PM becomes 12:00 PM to 2:00 PM/,
      /would wait, were .* 60 minutes longer at .*\n +"Sparrowgate Home Comfort: we are running late/,
      /Tamsin Roake has to leave at noon\. Booked after that: Tilda Brocklesby, 12:00 PM to 2:00 PM/,
      /\n +Tilda Brocklesby: Bram Ostrander, 12:\d\d PM/,
      /\{"position":\d+,.*"event":"visit\.booked"/,
      /BEGIN:VEVENT\n.*\n[\s\S]*SUMMARY:\d+ /,
    ]) {
      expect(demo.output).toMatch(said);
    }
    const [, board = ''] = /The board of .*\n([\s\S]*?)\n {2}\S/.exec(demo.output) ?? [];
    const [ofBram = '', ofTamsin = ''] = board.split(/^ +Tamsin Roake, 7:30 AM to 12:00 PM$/m);
    expect(ofBram).toContain('Tilda Brocklesby, 4 Foundry Lane');
    expect(`${ofBram}${ofTamsin}`.match(/promised/g)).toHaveLength(5);
    expect(ofTamsin).not.toMatch(/ PM to .*promised/);
  });

  it('the demo leaves a PDF of every paper: what was offered, answered, done and billed', async () => {
    const papers = await readdir(path.join(demo.folder, '.data/papers'));
    const kinds = papers.map((name) => name.replace(/-\d+.*$/, ''));
    const counted = Object.fromEntries(
      kinds.map((kind) => [kind, kinds.filter((k) => k === kind).length]),
    );
    expect(counted).toEqual({
      quote: 5,
      presupuesto: 1,
      'accepted-quote': 3,
      'presupuesto-aceptado': 1,
      'declined-quote': 1,
      'work-record': 4,
      'registro-de-trabajo': 1,
      invoice: 4,
      factura: 1,
      audit: 1,
    });
    for (const paper of papers) {
      const bytes = await readFile(path.join(demo.folder, '.data/papers', paper));
      expect(bytes.subarray(0, 5).toString()).toBe('%PDF-');
    }
  });

  it('the demo leaves the mail of everybody who has an address, with the paper in it', async () => {
    const folder = path.join(demo.folder, '.data/mail');
    const mails = await Promise.all(
      (await readdir(folder)).map((name) => readFile(path.join(folder, name), 'utf8')),
    );
    const to = mails.map((mail) => /^To: .*<(.*)>$/m.exec(mail)?.[1]).sort();
    const four = (name: string) => Array.from({ length: 4 }, () => `${name}@example.com`);
    expect(to).toEqual([
      'castellane@example.com',
      ...['marchbanks', 'osterley', 'quenell', 'threlkeld'].flatMap(four),
    ]);
    for (const mail of mails) expect(mail).toMatch(/^Content-Type: application\/pdf/m);
  });

  it('every command of the tour answers without a problem', async () => {
    const commands = await blocks('sh tour');
    expect(commands.length).toBeGreaterThan(8);
    for (const command of commands.slice(1)) {
      const { stdout } = await inTour(command);
      expect(stdout, command).not.toMatch(/"type":"[^"]*\/problems\//);
      expect(stdout.length + (command.includes(' -o ') ? 1 : 0), command).toBeGreaterThan(0);
    }
  }, 120_000);

  it('the next price book is begun, edited, looked at and published by the commands given', async () => {
    const readme = await readFile(path.join(root, 'README.md'), 'utf8');
    const [, script = ''] = /^```sh next-book\n([\s\S]*?)^```/m.exec(readme) ?? [];
    const { stdout } = await inTour(script);
    expect(stdout).not.toMatch(/"type":"[^"]*\/problems\//);
    expect(stdout).toContain('"state":"published"');
  });

  it('a slipped decimal point and a relabelled reset are refused as the tour says', async () => {
    const [reading, finding] = await blocks('sh tour-refused');
    const slipped = JSON.parse((await inTour(reading ?? '')).stdout);
    expect(slipped).toMatchObject({ status: 422, code: 'reading-out-of-range', likelyValue: 45 });
    const relabelled = JSON.parse((await inTour(finding ?? '')).stdout);
    expect(relabelled).toMatchObject({ status: 422, code: 'does-not-fit' });
  });
});

async function startDemo(): Promise<Demo> {
  const folder = await mkdtemp(path.join(tmpdir(), 'evenhand-readme-'));
  // The tour is typed in the checkout, so its paths are relative; a folder that looks like one.
  for (const name of ['src', 'seed', 'prisma', 'node_modules', 'package.json', 'tsconfig.json']) {
    await symlink(path.join(root, name), path.join(folder, name));
  }
  const child = spawn(process.execPath, ['--import', 'tsx', 'seed/demo/main.ts'], {
    cwd: folder,
    env: environment(),
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
  let output = '';
  for await (const chunk of child.stdout) {
    output += String(chunk);
    if (output.includes('Ctrl-C ends it')) break;
  }
  expect(output).toContain('Ctrl-C ends it');
  return {
    folder,
    output,
    stop: () => {
      child.kill('SIGTERM');
      return ended;
    },
  };
}

/** The caller's environment without what would lead the demo elsewhere. */
function environment(): NodeJS.ProcessEnv {
  const { DATABASE_URL: _url, DATABASE_OWNER_URL: _owner, ...rest } = process.env;
  return { ...rest, PORT: '0', EVENHAND_DATA_DIR: '.data' };
}

/** The commands of the README's code blocks of one kind, one by one. */
async function blocks(kind: string): Promise<string[]> {
  const readme = await readFile(path.join(root, 'README.md'), 'utf8');
  const found = [...readme.matchAll(/^```(.+)\n([\s\S]*?)^```/gm)];
  return found
    .filter(([, label]) => label === kind)
    .flatMap(([, , text = '']) => text.replace(/\\\n/g, ' ').trim().split('\n'));
}

async function inTour(command: string): Promise<{ stdout: string }> {
  const script = `. ./.data/demo.env\n${await curlIfMissing()}${command}`;
  return run('sh', ['-ec', script], { cwd: demo.folder, env: environment() });
}
