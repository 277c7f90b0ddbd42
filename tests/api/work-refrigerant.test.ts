import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { StaffKey } from '../../seed/company.ts';
import { chargedPlate, findLowCharge } from '../harness/findings.ts';
import {
  addSite,
  arriveAtJob,
  bookJob,
  findCapacitor,
  type Job,
  outdoorPlate,
} from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { finishVisit, sell } from '../harness/work.ts';

let service: TestService;
let job: Job;
beforeAll(async () => {
  service = await createTestService();
});
beforeEach(async () => {
  job = await arriveAtCharged();
  await sell(service, job, [await findLowCharge(service, job)]);
});

/** At a machine whose plate names what goes into it. */
async function arriveAtCharged(): Promise<Job> {
  const nameplate = { ...outdoorPlate, ...chargedPlate };
  return arriveAtJob(service, await addSite(service, { outdoor: { nameplate } }));
}
afterAll(() => service.close());

function weigh(change: object = {}, who: StaffKey = 'technician', visitId = job.visitId) {
  return service.as(who).post(`/v1/visits/${visitId}/refrigerant-moves`, {
    equipmentId: job.outdoorId,
    refrigerant: 'R-410A',
    direction: 'charged',
    cylinder: 'INV-R410A-12',
    beforeOz: '400.5',
    afterOz: '364',
    ...change,
  });
}

describe('refrigerant is recorded by the cylinder on the scale', () => {
  it.each([
    ['charged', '400.5', '364', '36.5'],
    ['recovered', '0', '36.1', '36.1'],
  ])('%s: %s to %s ounces moved %s', async (direction, beforeOz, afterOz, movedOz) => {
    const kept = expectStatus(await weigh({ direction, beforeOz, afterOz }), 201).body;
    expect(kept).toMatchObject({ direction, beforeOz, afterOz, movedOz });
    const work = await service.as('technician').get(`/v1/visits/${job.visitId}/work`);
    expect(work.body.refrigerantMoves).toEqual([kept]);
  });

  it.each([
    ['a charge that makes the cylinder heavier', { beforeOz: '364', afterOz: '400' }],
    ['a recovery that makes it lighter', { direction: 'recovered' }],
    ['a cylinder that stays as it was', { afterOz: '400.5' }],
  ])('%s is refused', async (_, change) => {
    const refused = expectProblem(await weigh(change), 'validation-failed');
    expect(refused.body.errors[0].pointer).toBe('/afterOz');
  });

  it('more than twice the factory charge is a slip of the pen', async () => {
    const slip = { beforeOz: '4000', afterOz: '100' };
    const refused = expectProblem(await weigh(slip), 'validation-failed');
    expect(refused.body.errors[0]).toMatchObject({ pointer: '/afterOz', code: 'beyond_reason' });
  });
});

describe('a weighing', () => {
  it.each(['410a', 'r 410A', 'HFC-410A'])(
    'of %s is of R-410A, however it is typed',
    async (typed) => {
      const kept = expectStatus(await weigh({ refrigerant: typed }), 201).body;
      expect(kept.refrigerant).toBe('R-410A');
    },
  );

  it('that is sent twice is recorded once', async () => {
    const { id } = expectStatus(await weigh(), 201).body;
    const again = expectProblem(await weigh(), 'already-exists');
    expect(again.body).toMatchObject({
      detail: 'Cylinder INV-R410A-12 from 400.5 to 364 oz is recorded already.',
      refrigerantMoveId: id,
    });
    expectStatus(await weigh({ beforeOz: '364', afterOz: '360' }), 201);
  });
});

describe('before the yes', () => {
  const recover = { direction: 'recovered', beforeOz: '0', afterOz: '80' };

  it('nothing is charged, found or not, until the quote is accepted', async () => {
    job = await arriveAtCharged();
    const refused = expectProblem(await weigh(), 'not-allowed-now');
    expect(refused.body.detail).toBe(
      'Nobody has agreed to work on this refrigerant circuit, and no work is done before the yes. Record the charge once the quote is accepted.',
    );
    const findingId = await findLowCharge(service, job);
    expectProblem(await weigh(), 'not-allowed-now');
    await sell(service, job, [findingId]);
    expectStatus(await weigh(), 201);
  });

  it('a yes to other work is no yes to it', async () => {
    job = await arriveAtCharged();
    await sell(service, job, [await findCapacitor(service, job)]);
    expectProblem(await weigh(), 'not-allowed-now');
  });

  it('what is taken out to weigh it may go back, and not an ounce more', async () => {
    job = await arriveAtCharged();
    expectStatus(await weigh(recover), 201);
    const more = expectProblem(
      await weigh({ beforeOz: '400', afterOz: '319.9', cylinder: 'INV-7' }),
      'not-allowed-now',
    );
    expect(more.body.detail).toContain('80 oz came out of it and may go back.');
    expectStatus(await weigh({ beforeOz: '80', afterOz: '10' }), 201);
    expectStatus(await weigh({ beforeOz: '10', afterOz: '0' }), 201);
    expectProblem(
      await weigh({ beforeOz: '400', afterOz: '399', cylinder: 'INV-7' }),
      'not-allowed-now',
    );
  });
});

describe('a cylinder', () => {
  it('begins at what it last weighed at the visit, whatever went in or out', async () => {
    const out = { direction: 'recovered', beforeOz: '0', afterOz: '80' };
    expectStatus(await weigh(out), 201);
    const jump = expectProblem(
      await weigh({ beforeOz: '400', afterOz: '300' }),
      'validation-failed',
    );
    expect(jump.body.errors[0]).toMatchObject({
      pointer: '/beforeOz',
      code: 'not_where_it_ended',
      message:
        'Cylinder INV-R410A-12 last weighed 80 oz at this visit. Weigh it again, or name the cylinder that was used.',
    });
    expectStatus(await weigh({ beforeOz: '78.5', afterOz: '40' }), 201);
    expectStatus(await weigh({ cylinder: 'INV-13', beforeOz: '400', afterOz: '300' }), 201);
  });
});

describe('the law on refrigerant', () => {
  // 40 CFR 82.161: who handles refrigerant holds the certificate for the appliance.
  it('the certificate of whoever records it is kept as it was then', async () => {
    const { id } = expectStatus(await weigh(), 201).body;
    await certify('technician', 'type_2', 'INVENTED-NEW');
    const work = await service.as('technician').get(`/v1/visits/${job.visitId}/work`);
    await certify('technician', 'universal', 'INVENTED-608-1');
    expect(work.body.refrigerantMoves).toMatchObject([
      { id, certificateType: 'universal', certificateNumber: 'INVENTED-608-1' },
    ]);
  });

  it.each([
    [null, null, 'certificate_missing'],
    ['type_1', 'INVENTED-1', 'certificate_of_other_type'],
    ['universal', null, 'certificate_number_missing'],
  ])('with a certificate %s of number %s nothing is recorded', async (type, number, reason) => {
    await certify('technician', type, number);
    const refused = await weigh();
    await certify('technician', 'universal', 'INVENTED-608-1');
    expect(expectProblem(refused, 'certificate-missing').body.reason).toBe(reason);
    const kept = await service.owner.query('SELECT 1 FROM refrigerant_move WHERE visit_id = $1', [
      job.visitId,
    ]);
    expect(kept.rows).toEqual([]);
  });

  it('the owner needs it no less', async () => {
    expectProblem(await weigh({}, 'owner'), 'certificate-missing');
  });

  it.each(['R-22', 'R-454B', 'R-407C'])('%s does not go into an R-410A machine', async (other) => {
    const refused = expectProblem(await weigh({ refrigerant: other }), 'does-not-fit');
    expect(refused.body.what).toBe('refrigerant');
  });

  // 40 CFR 82.154 forbids to vent it, so what is found inside is recovered whatever it is.
  it('what came out of it is recorded though the nameplate names another', async () => {
    const mixed = { refrigerant: 'R-22', direction: 'recovered', beforeOz: '10', afterOz: '60' };
    expectStatus(await weigh(mixed), 201);
  });

  it('a machine without a readable nameplate is charged when that is recorded', async () => {
    const refused = expectProblem(await weigh({ equipmentId: job.indoorId }), 'does-not-fit');
    expect(refused.body.detail).toContain('nameplate');
  });
});

describe('where and when it was', () => {
  it('at a machine of that site', async () => {
    const elsewhere = await addSite(service);
    const refused = expectProblem(
      await weigh({ equipmentId: elsewhere.outdoorId }),
      'unknown-reference',
    );
    expect(refused.body.errors[0].pointer).toBe('/equipmentId');
  });

  it.each([
    ['before the technician arrived', '2026-07-14T17:00:00Z', 'before_arrival'],
    ['in the future', '2026-07-14T19:00:00Z', 'in_the_future'],
  ])('not %s', async (_, movedAt, code) => {
    const refused = expectProblem(await weigh({ movedAt }), 'validation-failed');
    expect(refused.body.errors[0]).toMatchObject({ pointer: '/movedAt', code });
  });

  it('also after the visit, and never before somebody is there', async () => {
    await finishVisit(service, job.visitId);
    expectStatus(await weigh(), 201);
    const later = await bookJob(service);
    expectProblem(await weigh({}, 'technician', later.visitId), 'not-allowed-now');
  });
});

async function certify(who: StaffKey, type: string | null, number: string | null): Promise<void> {
  await service.owner.query('UPDATE staff SET epa608_type = $2, epa608_number = $3 WHERE id = $1', [
    service.staff[who].id,
    type,
    number,
  ]);
}
