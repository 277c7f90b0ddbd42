import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { photoMediaTypeOf, photoMediaTypes } from '../../src/evidence/photo-media-type.ts';
import { photoSubjects } from '../../src/evidence/photo-subjects.ts';
import { sha256 } from '../../src/platform/sha256.ts';
import { encodedImages } from '../harness/encoded-images.ts';
import { arriveAtJob, bookJob, type Job } from '../harness/job.ts';
import { addPhoto, photoOf } from '../harness/photos.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

let service: TestService;
let job: Job;
beforeAll(async () => {
  service = await createTestService();
  job = await arriveAtJob(service);
});
afterAll(() => service.close());

const bulged = { code: 'capacitor_herm_bulged_or_leaking', answer: 'yes' };
const tenMebibytes = 10 * 1024 * 1024;

describe('a photo of a visit', () => {
  it.each(photoMediaTypes)(
    'as %s is kept under the hash of its bytes, and journaled',
    async (type) => {
      const size = { widthPx: 4_000, heightPx: 3_000 };
      const bytes = photoOf(`a bulged can, as ${type}`, type, size);
      const kept = expectStatus(await send(job, type, bytes, { shows: 'meter_face' }), 201);
      expect(kept.body).toEqual({
        sha256: sha256(bytes),
        shows: 'meter_face',
        mediaType: type,
        ...size,
        bytes: bytes.length,
        recordedAt: service.clock.now().toISOString(),
        recordedById: service.staff.technician.id,
      });
      expect(kept.headers['location']).toBe(`/v1/photos/${sha256(bytes)}`);
      expect(await entriesOf(sha256(bytes))).toEqual([
        {
          after: {
            visitId: job.visitId,
            shows: 'meter_face',
            mediaType: type,
            bytes: bytes.length,
            ...size,
          },
        },
      ]);
    },
  );

  it.each(photoMediaTypes)(
    'as %s comes back byte for byte, to be saved and not opened',
    async (type) => {
      const bytes = photoOf(`a pitted contact, as ${type}`, type);
      expectStatus(await send(job, type, bytes), 201);
      const hash = sha256(bytes);
      const read = await service.app.inject({
        url: `/v1/photos/${hash}`,
        headers: { authorization: `Bearer ${service.staff.technician.token}` },
      });
      expect(read.statusCode).toBe(200);
      expect(sha256(read.rawPayload)).toBe(hash);
      expect(read.headers).toMatchObject({
        'content-type': type,
        'x-content-type-options': 'nosniff',
        etag: `"${hash}"`,
      });
      expect(read.headers['content-disposition']).toMatch(
        /^attachment; filename="photo-[0-9a-f]{12}\.(jpg|png|webp)"$/,
      );
    },
  );

  it('of ten mebibytes is taken; one byte more is refused, and the refusal says the limit', async () => {
    const bytes = new Uint8Array(tenMebibytes + 1);
    bytes.set(photoOf('a large one'));
    const limit = bytes.subarray(0, tenMebibytes);
    expect(expectStatus(await send(job, 'image/jpeg', limit), 201).body.bytes).toBe(tenMebibytes);
    const refused = expectProblem(await send(job, 'image/jpeg', bytes), 'payload-too-large');
    expect(refused.body.detail).toBe('The body is larger than 10 MiB.');
  });

  const refusals: [what: string, type: string, bytes: Uint8Array, detail: RegExp][] = [
    [
      'a PNG sent as JPEG',
      'image/jpeg',
      photoOf('x', 'image/png'),
      /are image\/png.*sent as image\/jpeg/,
    ],
    ['a page sent as a picture', 'image/png', Buffer.from('<script>alert(1)</script>'), /no image/],
    [
      'a RIFF file that is no picture',
      'image/webp',
      Buffer.from('RIFF\0\0\0\0WAVEfmt '),
      /no image/,
    ],
    ['a JPEG cut to two bytes', 'image/jpeg', Uint8Array.of(0xff, 0xd8), /no image/],
    [
      'a vector image',
      'image/svg+xml',
      Buffer.from('<svg/>'),
      /Send image\/jpeg or image\/png or image\/webp/,
    ],
    ['JSON', 'application/json', Buffer.from('{}'), /Send image\/jpeg/],
  ];
  it.each(refusals)('is not %s', async (_what, type, bytes, detail) => {
    const refused = expectProblem(await send(job, type, bytes), 'unsupported-media-type');
    expect(refused.body.detail).toMatch(detail);
    expectProblem(await service.as('owner').get(`/v1/photos/${sha256(bytes)}`), 'not-found');
  });

  it('is not nothing', async () => {
    const refused = await send(job, 'image/jpeg', new Uint8Array());
    expect(expectProblem(refused, 'validation-failed').body.errors).toMatchObject([
      { in: 'body', pointer: '' },
    ]);
  });

  it('opens no other route to pictures, and none but this to them', async () => {
    const path = `/v1/visits/${job.visitId}/observations`;
    const answer = await service.as('technician').send(path, 'image/jpeg', photoOf('x'));
    expect(expectProblem(answer, 'unsupported-media-type').body.detail).toBe(
      'Send application/json.',
    );
  });

  it('sent again is the same photo and one entry; the same key gives the first answer', async () => {
    const bytes = photoOf('sent twice');
    const key = randomUUID();
    const first = expectStatus(await send(job, 'image/jpeg', bytes, { key }), 201);
    const repeated = await send(job, 'image/jpeg', bytes, { key });
    expect(repeated.headers['idempotency-replayed']).toBe('true');
    expect(repeated.text).toBe(first.text);
    expect(expectStatus(await send(job, 'image/jpeg', bytes), 201).body).toEqual(first.body);
    expect(await entriesOf(sha256(bytes))).toHaveLength(1);
    expectProblem(
      await send(job, 'image/jpeg', photoOf('another'), { key }),
      'idempotency-key-reused',
    );
  });

  it('of which another word is said later still shows what was said first, and says so', async () => {
    const fresh = await arriveAtJob(service);
    const bytes = photoOf('a plate');
    const first = await send(fresh, 'image/jpeg', bytes, { shows: 'nameplate' });
    const later = await send(fresh, 'image/jpeg', bytes, { shows: 'place' });
    expect(expectStatus(later, 201).body).toEqual(expectStatus(first, 201).body);
    expect(later.body.shows).toBe('nameplate');
    expect((await photosAt(fresh)).body.items).toMatchObject([{ shows: 'nameplate' }]);
    const other = await arriveAtJob(service);
    const elsewhere = await send(other, 'image/jpeg', bytes, { shows: 'place' });
    expect(expectStatus(elsewhere, 201).body.shows).toBe('place');
  });

  it('said to show something else under the same key is another request, and is refused', async () => {
    const bytes = photoOf('a pulled part');
    const key = randomUUID();
    expectStatus(await send(job, 'image/jpeg', bytes, { key, shows: 'old_part' }), 201);
    const said = await send(job, 'image/jpeg', bytes, { key, shows: 'old_part' });
    expect(said.headers['idempotency-replayed']).toBe('true');
    for (const shows of ['place', undefined]) {
      const refused = await send(job, 'image/jpeg', bytes, { key, shows });
      expectProblem(refused, 'idempotency-key-reused');
    }
  });

  it.each(photoSubjects)('may show: %s', async (shows) => {
    const kept = await send(job, 'image/jpeg', photoOf(`one that shows ${shows}`), { shows });
    expect(expectStatus(kept, 201).body.shows).toBe(shows);
  });

  it('of which nothing is said shows something other', async () => {
    const kept = await send(job, 'image/jpeg', photoOf('who knows'));
    expect(expectStatus(kept, 201).body.shows).toBe('other');
  });

  it.each(['shows=the_customer', 'shows=', 'shows=place&shows=other', 'show=place'])(
    'is not described by ?%s',
    async (query) => {
      const path = `/v1/visits/${job.visitId}/photos?${query}`;
      const refused = await service.as('technician').send(path, 'image/jpeg', photoOf('x'));
      const { body } = expectProblem(refused, 'validation-failed');
      expect(body.errors).toMatchObject([{ in: 'query' }]);
    },
  );

  it.each(photoMediaTypes)(
    'as %s is kept down to 200 pixels on its shorter side, and up to 12,000 and 60 megapixels',
    async (type) => {
      const cases: [width: number, height: number, reason: string | undefined][] = [
        [200, 200, undefined],
        [199, 3_000, 'too_small'],
        [3_000, 199, 'too_small'],
        [12_000, 5_000, undefined],
        [5_000, 12_000, undefined],
        [12_001, 300, 'too_large'],
        [300, 12_001, 'too_large'],
        [12_000, 5_001, 'too_large'],
      ];
      for (const [widthPx, heightPx, reason] of cases) {
        const bytes = photoOf('a meter', type, { widthPx, heightPx });
        const answer = await send(job, type, bytes);
        if (reason === undefined) {
          expect(expectStatus(answer, 201).body).toMatchObject({ widthPx, heightPx });
          continue;
        }
        const { body } = expectProblem(answer, 'photo-unusable');
        expect(body).toMatchObject({ reason, widthPx, heightPx });
        expectProblem(await service.as('owner').get(`/v1/photos/${sha256(bytes)}`), 'not-found');
      }
    },
  );

  it.each(photoMediaTypes)(
    'as %s that is cut off within its head is refused as damaged',
    async (type) => {
      const bytes = photoOf('', type).subarray(0, 14);
      const { body } = expectProblem(await send(job, type, bytes), 'photo-unusable');
      expect(body.reason).toBe('no_size');
      expect(body.detail).toMatch(/cut short or damaged/);
    },
  );

  it.each(Object.entries(encodedImages))('made by a real encoder is kept: %s', async (_, bytes) => {
    const type = photoMediaTypeOf(bytes) ?? 'none';
    const kept = expectStatus(await send(job, type, bytes), 201).body;
    expect(kept).toMatchObject({ widthPx: 320, heightPx: 240 });
  });

  it('needs a key as every act does', async () => {
    const path = `/v1/visits/${job.visitId}/photos`;
    const answer = await service
      .as('technician')
      .send(path, 'image/jpeg', photoOf('x'), { key: null });
    expectProblem(answer, 'idempotency-key-missing');
  });

  it('is made on site by the technician of the visit or the owner, and by nobody else', async () => {
    const path = `/v1/visits/${job.visitId}/photos`;
    const bytes = photoOf('who took it');
    expectProblem(await service.as('dispatcher').send(path, 'image/jpeg', bytes), 'forbidden');
    expectProblem(
      await service.as('second_technician').send(path, 'image/jpeg', bytes),
      'not-found',
    );
    expectStatus(await service.as('owner').send(path, 'image/jpeg', bytes), 201);
    const before = await bookJob(service);
    expectProblem(await send(before, 'image/jpeg', bytes), 'not-allowed-now');
  });

  it('is seen by the office and by its own technician; for another it does not exist', async () => {
    const path = `/v1/photos/${await addPhoto(service, job, 'whose it is')}`;
    for (const who of ['owner', 'dispatcher', 'technician'] as const) {
      expectStatus(await service.as(who).get(path), 200);
    }
    expectProblem(await service.as('second_technician').get(path), 'not-found');
    expectProblem(await service.as('nobody').get(path), 'unauthenticated');
  });
});

describe('the photos of a visit', () => {
  it('are listed in the order they were sent, with what they show, their size, when and by whom', async () => {
    const fresh = await arriveAtJob(service);
    expect((await photosAt(fresh)).body).toEqual({ items: [] });
    const meter = await send(fresh, 'image/jpeg', photoOf('27.1'), { shows: 'meter_face' });
    service.clock.advance(60_000);
    const path = `/v1/visits/${fresh.visitId}/photos?shows=old_part`;
    const size = { widthPx: 800, heightPx: 600 };
    const can = await service.as('owner').send(path, 'image/png', photoOf('', 'image/png', size));
    const listed = expectStatus(await photosAt(fresh), 200).body.items;
    const { bytes: _, ...first } = expectStatus(meter, 201).body;
    const { bytes: __, ...second } = expectStatus(can, 201).body;
    expect(listed).toEqual([first, second]);
    expect(second).toMatchObject({
      shows: 'old_part',
      mediaType: 'image/png',
      ...size,
      recordedById: service.staff.owner.id,
      recordedAt: service.clock.now().toISOString(),
    });
  });

  it('kept before sizes were read are listed without one', async () => {
    const fresh = await arriveAtJob(service);
    const sha = await addPhoto(service, job, 'an old one');
    await service.owner.query(
      `INSERT INTO visit_photo (visit_id, sha256, recorded_at, recorded_by_id)
       VALUES ($1, $2, now(), $3)`,
      [fresh.visitId, sha, service.staff.technician.id],
    );
    expect(expectStatus(await photosAt(fresh), 200).body.items).toMatchObject([
      { sha256: sha, shows: 'other', widthPx: null, heightPx: null },
    ]);
  });

  it('are seen by the office and its own technician; for another there is no such visit', async () => {
    const path = `/v1/visits/${job.visitId}/photos`;
    for (const who of ['owner', 'dispatcher', 'technician'] as const) {
      expectStatus(await service.as(who).get(path), 200);
    }
    expectProblem(await service.as('second_technician').get(path), 'not-found');
    expectProblem(await service.as('nobody').get(path), 'unauthenticated');
  });
});

describe('a reading with a photo', () => {
  it('names the meter’s face, in the answer, the evidence and the journal', async () => {
    const photoSha256 = await addPhoto(service, job, '4.1 A');
    const recorded = expectStatus(await read(job, photoSha256), 201).body.items;
    expect(recorded).toMatchObject([{ photoSha256: null }, { photoSha256 }]);
    const evidence = await service.as('technician').get(`/v1/visits/${job.visitId}/evidence`);
    expect(evidence.body.readings).toEqual(recorded);
    const entries = await service.owner.query<{ changes: string }>(
      `SELECT changes FROM journal_entry WHERE event = 'reading.recorded' AND subject_id = $1`,
      [recorded[1].id],
    );
    expect(entries.rows.map(({ changes }) => JSON.parse(changes))).toMatchObject([
      { after: { photoSha256 } },
    ]);
  });

  it('that nobody sent is refused, and nothing is kept', async () => {
    const fresh = await arriveAtJob(service);
    const refused = expectProblem(await read(fresh, 'a'.repeat(64)), 'unknown-reference');
    expect(refused.body.errors).toMatchObject([
      { in: 'body', pointer: '/readings/1/photoSha256', code: 'unknown_reference' },
    ]);
    const evidence = await service.as('technician').get(`/v1/visits/${fresh.visitId}/evidence`);
    expect(evidence.body.readings).toEqual([]);
  });

  it('of another visit is refused, until it is sent to this one as well', async () => {
    const other = await arriveAtJob(service);
    const photoSha256 = await addPhoto(service, other, 'somebody else’s meter');
    const fresh = await arriveAtJob(service);
    expectProblem(await read(fresh, photoSha256), 'unknown-reference');
    await addPhoto(service, fresh, 'somebody else’s meter');
    expectStatus(await read(fresh, photoSha256), 201);
  });
});

describe('an observation with a photo', () => {
  it('names one of its own visit', async () => {
    const photoSha256 = await addPhoto(service, job, 'the bulged can');
    const recorded = expectStatus(await observe(job, photoSha256), 201);
    expect(recorded.body.items).toMatchObject([{}, { photoSha256 }]);
  });

  it('proves what it shows', async () => {
    const fresh = await arriveAtJob(service);
    expectStatus(await observe(fresh, await addPhoto(service, fresh, 'a leaking can')), 201);
    const path = `/v1/visits/${fresh.visitId}/assessment?equipmentId=${fresh.outdoorId}`;
    const { body } = expectStatus(await service.as('technician').get(path), 200);
    expect(body.systems[0].machines[0].verdicts).toContainEqual(
      expect.objectContaining({ faultCode: 'run_capacitor_herm', standing: 'proven' }),
    );
  });

  it('that nobody sent is refused, and nothing is kept', async () => {
    const fresh = await arriveAtJob(service);
    const refused = expectProblem(await observe(fresh, 'a'.repeat(64)), 'unknown-reference');
    expect(refused.body.errors).toMatchObject([
      { in: 'body', pointer: '/observations/1/photoSha256', code: 'unknown_reference' },
    ]);
    const evidence = await service.as('technician').get(`/v1/visits/${fresh.visitId}/evidence`);
    expect(evidence.body.observations).toEqual([]);
  });

  it('of another visit is refused, until it is sent to this one as well', async () => {
    const other = await arriveAtJob(service);
    const photoSha256 = await addPhoto(service, other, 'somebody else’s can');
    const fresh = await arriveAtJob(service);
    expectProblem(await observe(fresh, photoSha256), 'unknown-reference');
    await addPhoto(service, fresh, 'somebody else’s can');
    expectStatus(await observe(fresh, photoSha256), 201);
  });
});

interface Sending {
  key?: string;
  shows?: string | undefined;
}

function send({ visitId }: Job, type: string, bytes: Uint8Array, { key, shows }: Sending = {}) {
  const path = `/v1/visits/${visitId}/photos${shows === undefined ? '' : `?shows=${shows}`}`;
  const options = key === undefined ? {} : { key };
  return service.as('technician').send(path, type, bytes, options);
}

function photosAt({ visitId }: Job) {
  return service.as('technician').get(`/v1/visits/${visitId}/photos`);
}

// A plain one stands before it, as with observations.
function read({ visitId, outdoorId }: Job, photoSha256: string) {
  const herm = { equipmentId: outdoorId, point: 'capacitor_herm', method: 'clamp_meter' };
  return service.as('technician').post(`/v1/visits/${visitId}/readings`, {
    readings: [
      { ...herm, quantity: 'voltage', value: 352, unit: 'V' },
      { ...herm, quantity: 'current', value: 4.1, unit: 'A', photoSha256 },
    ],
  });
}

// A plain one stands before it, to show that all of it or nothing is recorded.
function observe({ visitId, outdoorId }: Job, photoSha256: string) {
  const at = { equipmentId: outdoorId };
  return service.as('technician').post(`/v1/visits/${visitId}/observations`, {
    observations: [
      { ...at, code: 'compressor_hums', answer: 'yes' },
      { ...at, ...bulged, photoSha256 },
    ],
  });
}

async function entriesOf(hash: string): Promise<object[]> {
  const entries = await service.owner.query<{ changes: string }>(
    `SELECT changes FROM journal_entry WHERE event = 'photo.added' AND subject_id = $1`,
    [hash],
  );
  return entries.rows.map(({ changes }) => JSON.parse(changes));
}
