import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { faultCatalog } from '../../src/trade/index.ts';
import { arriveAtJob } from '../harness/job.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';

// biome-ignore lint/suspicious/noExplicitAny: JSON as a client gets it; tests look at its fields.
type Json = any;

let service: TestService;
let words: Json;
let faults: Json[];
beforeAll(async () => {
  service = await createTestService();
  words = await read('/v1/vocabulary');
  faults = (await read('/v1/faults')).items;
});
afterAll(() => service.close());

async function read(path: string): Promise<Json> {
  return expectStatus(await service.as('technician').get(path), 200).body;
}

function codesOf(entries: { code: string }[]): string[] {
  return entries.map(({ code }) => code);
}

describe('the catalog of faults', () => {
  it('says of every fault what it asks for, and nothing of how it is reckoned', () => {
    expect(codesOf(faults)).toEqual(codesOf([...faultCatalog]));
    for (const fault of faults) {
      expect(fault.kinds.length, fault.code).toBeGreaterThan(0);
      expect(fault.callsPerThousand, fault.code).toBeGreaterThan(0);
      for (const inner of ['rules', 'expects', 'settledBy']) {
        expect(fault).not.toHaveProperty(inner);
      }
    }
  });

  it('names the signs for and against every fault, at least one for it, none said twice', () => {
    for (const { code, criteria } of faults) {
      const directions = criteria.map(({ direction }: Json) => direction);
      expect(directions, code).toContain('for');
      const said = criteria.map((head: Json) => JSON.stringify(head));
      expect(new Set(said).size, code).toBe(said.length);
      for (const { statement } of criteria) expect(statement, code).toMatch(/\w/);
    }
  });

  it('names the very signs that an assessment weighs', async () => {
    const job = await arriveAtJob(service);
    const path = `/v1/visits/${job.visitId}/assessment?equipmentId=${job.outdoorId}&all=true`;
    const [system] = (await read(path)).systems;
    const weighed = system.machines[0].verdicts.filter(
      ({ standing }: Json) => standing !== 'not_applicable',
    );
    expect(weighed.length).toBeGreaterThan(10);
    for (const { faultCode, faultName, criteria } of weighed) {
      const fault = faults.find(({ code }) => code === faultCode);
      expect(faultName).toBe(fault.name);
      for (const { id, statement, direction, weight } of criteria) {
        expect(fault.criteria, faultCode).toContainEqual({ id, statement, direction, weight });
      }
    }
  });

  it('says of every symptom that it is not the cause, and which search is due; of a cause neither', () => {
    const symptoms = faults.filter(({ role }) => role === 'symptom');
    expect(codesOf(symptoms)).toContain('tripped_breaker');
    for (const { code, role, notTheCause, causeSearch } of faults) {
      expect(notTheCause === null, code).toBe(role === 'cause');
      expect(causeSearch === null, code).toBe(role === 'cause');
    }
    for (const { notTheCause, causeSearch } of symptoms) {
      expect(notTheCause.length).toBeGreaterThan(10);
      expect(causeSearch.recordedBy.length).toBeGreaterThan(0);
    }
  });

  it('names what must be looked at before a dear part is blamed', () => {
    const dear = faults.filter(({ dear }) => dear);
    expect(codesOf(dear)).toContain('compressor_locked');
    for (const { code, exclusions } of dear) {
      expect(exclusions.length, code).toBeGreaterThan(0);
      for (const { doneWhen } of exclusions) expect(doneWhen.length, code).toBeGreaterThan(0);
    }
  });
});

describe('the vocabulary', () => {
  it('has every word that the catalog of faults uses', () => {
    const named = faults.flatMap(({ exclusions, causeSearch }) => [
      ...exclusions.flatMap(({ doneWhen }: Json) => doneWhen),
      ...(causeSearch?.recordedBy ?? []),
    ]);
    expect(named.length).toBeGreaterThan(20);
    for (const { observation, point, quantity } of named) {
      if (observation !== undefined) expect(codesOf(words.observations)).toContain(observation);
      else expect(rangeOf(point, quantity)).toBeDefined();
    }
    const remedies = faults.flatMap(({ remedies }) => remedies);
    for (const { task, partCategories } of remedies) {
      expect(codesOf(words.tasks)).toContain(task);
      expect(words.partCategories).toEqual(expect.arrayContaining(partCategories));
    }
  });

  it('has a method for everything that is read, and a reading or observation for every check', () => {
    const measured = words.methods.flatMap(({ measures }: Json) =>
      measures.map(({ quantity }: Json) => quantity),
    );
    for (const { code, ranges } of words.points) {
      expect(ranges.length, code).toBeGreaterThan(0);
      for (const { quantity } of ranges) expect(measured).toContain(quantity);
    }
    for (const { code, readings, observations } of words.checks) {
      expect(readings.length + observations.length, code).toBeGreaterThan(0);
      for (const reading of readings) {
        const [point, quantity] = reading.split('.');
        expect(rangeOf(point, quantity), `${code}: ${reading}`).toBeDefined();
      }
      expect(codesOf(words.observations)).toEqual(expect.arrayContaining(observations));
    }
  });

  it('is enough to record a reading at every point, in every way its unit can be written', async () => {
    const job = await arriveAtJob(service);
    const typed = words.points.flatMap(({ code: point, ranges }: Json) =>
      ranges.flatMap(({ quantity }: Json) => {
        const method = words.methods.find(({ measures }: Json) =>
          measures.some((each: Json) => each.quantity === quantity),
        );
        const { units } = words.quantities.find(({ code }: Json) => code === quantity);
        const ways = units.flatMap(({ written }: Json) => written);
        return ways.map((unit: string) => ({
          ...{ equipmentId: job.outdoorId, point, quantity, method: method.code },
          ...{ value: 1e30, unit },
        }));
      }),
    );
    expect(typed.length).toBeGreaterThan(300);
    // All are beyond their range, and that alone is what is wrong with them.
    for (const reading of typed.filter((_: Json, index: number) => index % 25 === 0)) {
      const answer = await service
        .as('technician')
        .post(`/v1/visits/${job.visitId}/readings`, { readings: [reading] });
      expect(answer.body.errors, JSON.stringify(reading)).toMatchObject([
        { pointer: '/readings/0/value', code: 'out_of_range' },
      ]);
    }
  });

  it('says what is meant by each kind of care, each phase and each subject of a photo', () => {
    const cares = new Set(words.checks.map(({ care }: Json) => care));
    expect(new Set(codesOf(words.cares))).toEqual(cares);
    expect(codesOf(words.phases)).toEqual(['found', 'left']);
    expect(codesOf(words.photoSubjects)).toContain('nameplate');
    for (const { code, meaning } of [...words.cares, ...words.phases, ...words.photoSubjects]) {
      expect(meaning, code).toMatch(/^[A-Z].*\.$/);
    }
  });

  it('names what cannot be so at the same moment', () => {
    const full = words.observations.find(({ code }: Json) => code === 'drain_pan_full');
    expect(full.excludes).toBe('drain_pan_dry');
  });

  it('tells which work and which checks ask for the certificate', () => {
    const handling = words.tasks.filter(({ handlesRefrigerant }: Json) => handlesRefrigerant);
    expect(codesOf(handling)).toContain('add_refrigerant');
    const gauges = words.checks.filter(({ care }: Json) => care === 'gauges');
    expect(codesOf(gauges)).toContain('read_gauges');
  });
});

function rangeOf(point: string, quantity: string): Json {
  return words.points
    .find(({ code }: Json) => code === point)
    ?.ranges.find((each: Json) => each.quantity === quantity);
}
