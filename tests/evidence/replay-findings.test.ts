import { execFile } from 'node:child_process';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { replayFindings } from '../../src/evidence/index.ts';
import { findPluggedDrain, findTrippedBreaker, findWornContactor } from '../harness/findings.ts';
import { arriveAtJob, findCapacitor } from '../harness/job.ts';
import { createTestService, type TestService } from '../harness/test-service.ts';

const root = path.resolve(import.meta.dirname, '../..');
let service: TestService;
let capacitor: string;
let count: number;
beforeAll(async () => {
  service = await createTestService();
  const job = await arriveAtJob(service);
  const found = [
    await findTrippedBreaker(service, job),
    await findWornContactor(service, job),
    await findPluggedDrain(service, job),
  ];
  capacitor = await findCapacitor(service, job);
  count = found.length + 1;
  await service.owner.query('CREATE TABLE kept_finding AS TABLE finding');
});
afterEach(() =>
  alter(`UPDATE finding SET standing = kept.standing, verdict = kept.verdict,
           evidence = kept.evidence, ruleset_version = kept.ruleset_version
         FROM kept_finding kept WHERE kept.id = finding.id`),
);
afterAll(() => service.close());

describe('a finding keeps its verdict: weighed again from its frozen inputs', () => {
  it('each comes out as it is stored', async () => {
    expect(await replayFindings(service.db.pool)).toEqual({ replayed: count, differences: [] });
  });

  it('each does so whatever has been measured since, or corrected on the nameplate', async () => {
    await alter(`UPDATE equipment SET capacitor_herm_uf = 30`);
    expect((await replayFindings(service.db.pool)).differences).toEqual([]);
  });

  // A table of what somebody with every right in the database could alter in one finding.
  const altered: [what: string, sql: string, difference: RegExp][] = [
    [
      'the standing of its verdict',
      `verdict = jsonb_set(verdict::jsonb, '{standing}', '"supported"')::json`,
      /: standing was "supported", now "proven"$/,
    ],
    [
      'the standing shown in lists',
      `standing = 'supported'`,
      /: it stands as supported, and its evidence says proven$/,
    ],
    [
      'a reason',
      `verdict = jsonb_set(verdict::jsonb, '{reason}', '"because"')::json`,
      /: reason was "because", now "proven/,
    ],
    [
      'a word of a criterion',
      `verdict = jsonb_set(verdict::jsonb, '{criteria,0,detail}', '"44.9 uF"')::json`,
      /: criterion \w+ was .*"44\.9 uF".*, now /,
    ],
    [
      'a criterion taken out',
      `verdict = (verdict::jsonb #- '{criteria,0}')::json`,
      /: criterion \w+ was absent, now /,
    ],
    [
      'a reading that it rests on',
      `evidence = replace(evidence::text, '"value":4.1,', '"value":6.4,')::json`,
      /: it stands as proven, and its evidence says/,
    ],
    [
      'its evidence made unreadable',
      `evidence = '{}'::json`,
      /: the evidence frozen in it cannot be read$/,
    ],
    [
      'the version of its rules',
      `ruleset_version = 'evidence-0'`,
      /: there are no rules of version evidence-0$/,
    ],
  ];
  it.each(altered)(
    '%s altered is found out, with the finding named',
    async (_, sql, difference) => {
      await alter(`UPDATE finding SET ${sql} WHERE id = '${capacitor}'`);
      const { replayed, differences } = await replayFindings(service.db.pool);
      expect(replayed).toBe(count);
      expect(differences).toContainEqual(expect.stringMatching(difference));
      for (const each of differences) expect(each).toContain(`finding ${capacitor}: `);
    },
  );

  it('the command ends with 0 when all is as stored, and with 1 when it is not', async () => {
    expect(await run()).toMatchObject({
      status: 0,
      stdout: `${count} findings weighed again: all as stored.\n`,
    });
    await alter(`UPDATE finding SET standing = 'supported' WHERE id = '${capacitor}'`);
    const { status, stdout } = await run();
    expect(status).toBe(1);
    expect(stdout).toContain(`DIFFERS  finding ${capacitor}: it stands as supported`);
    expect(stdout).toContain('NOT all as stored');
  });
});

/** As somebody who can switch off every guard. */
async function alter(sql: string): Promise<void> {
  const client = await service.owner.connect();
  try {
    await client.query("SET session_replication_role = 'replica'");
    await client.query(sql);
  } finally {
    await client.query('RESET session_replication_role');
    client.release();
  }
}

function run(): Promise<{ status: number; stdout: string }> {
  const argv = ['--import', 'tsx', path.join(root, 'src/replay-findings.ts')];
  const { PATH = '' } = process.env;
  return new Promise((resolve) => {
    const options = { cwd: root, env: { PATH, DATABASE_URL: service.url } };
    execFile(process.execPath, argv, options, (error, stdout) => {
      resolve({ status: error === null ? 0 : Number(error.code), stdout });
    });
  });
}
