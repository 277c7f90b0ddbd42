import { z } from 'zod';
import { versionTag } from '../../platform/http/etag.ts';
import { idParam } from '../../platform/http/formats.ts';
import {
  cutPage,
  orderQuery,
  pageOf,
  pageQuery,
  readOn,
  startAfter,
} from '../../platform/http/page.ts';
import { notFound } from '../../platform/http/problem.ts';
import { act, bytes, type Reply, type Route, read } from '../../platform/http/route.ts';
import { sentFileSchema } from '../../platform/http/sent-file.ts';
import { sha256 } from '../../platform/sha256.ts';
import { laborRateCents } from '../../pricing/index.ts';
import { beginDraft } from './begin-draft.ts';
import { changeDraft } from './change-draft.ts';
import {
  draftChangeSchema,
  draftHeadSchema,
  draftPreviewSchema,
  draftPublicationSchema,
  draftSchema,
  draftStateSchema,
  newDraftSchema,
} from './contract.ts';
import { type DraftHead, headBody, readDraft } from './draft-row.ts';
import { dropDraft, publishDraft } from './end-draft.ts';
import { bookLists, listNameSchema } from './lists/book-lists.ts';
import { previewDraft } from './preview-draft.ts';
import { replaceList } from './replace-list.ts';
import { storedContent } from './stored-content.ts';

const CSV = 'text/csv; charset=utf-8';
const draftListParams = z.strictObject({ draftId: z.uuid(), list: listNameSchema });

export const priceBookDraftRoutes: readonly Route[] = [
  bytes({
    operationId: 'getPriceBookList',
    summary: 'One list of a price book as a CSV file',
    description:
      'Amounts are dollars. A cell that a spreadsheet would take for a formula has an apostrophe ' +
      'in front, which is taken off again when the file is sent back.',
    tag: 'price book',
    path: '/v1/price-books/:priceBookId/:list.csv',
    access: ['owner'],
    params: z.strictObject({ priceBookId: z.uuid(), list: listNameSchema }),
    mediaTypes: [CSV],
    disposition: 'attachment',
    handle: async ({ sql }, { params: { priceBookId, list } }) => {
      const content = await storedContent(sql, priceBookId);
      if (content === undefined) throw notFound('price book');
      const file = bookLists[list].write(content);
      const etag = `"${sha256(file)}"`;
      return { bytes: file, mediaType: CSV, etag, fileName: `price-book-${list}.csv` };
    },
  }),
  act({
    operationId: 'beginPriceBookDraft',
    summary: 'Begin a draft of the next price book',
    description: 'From the book in force, from another version, or from a whole content.',
    tag: 'price book drafts',
    method: 'POST',
    path: '/v1/price-book-drafts',
    access: ['owner'],
    body: newDraftSchema,
    bodyBytesMax: 16 * 1024 * 1024,
    response: draftHeadSchema,
    status: 201,
    problems: ['no-price-book', 'unknown-reference'],
    handle: async (context, { body }) => {
      const draft = await beginDraft(context, body);
      return { ...changed(draft), location: `/v1/price-book-drafts/${draft.id}` };
    },
  }),
  read({
    operationId: 'listPriceBookDrafts',
    summary: 'The drafts of price books, without their content',
    tag: 'price book drafts',
    path: '/v1/price-book-drafts',
    access: ['owner'],
    query: z.strictObject({ ...pageQuery, ...orderQuery, state: draftStateSchema.optional() }),
    response: pageOf(draftHeadSchema),
    problems: ['cursor-invalid'],
    handle: async ({ prisma }, { query: { limit, cursor, order, state } }) => {
      const filter = { list: 'price-book-drafts', order, state };
      const { where, orderBy } = readOn(order, startAfter(cursor, filter));
      const rows = await prisma.priceBookDraft.findMany({
        where: { ...where, ...(state && { state }) },
        orderBy,
        omit: { content: true },
        include: { basedOn: { select: { id: true, number: true } } },
        take: limit + 1,
      });
      const heads = rows.map((row) =>
        headBody({ ...row, state: draftStateSchema.parse(row.state) }),
      );
      return { body: cutPage(heads, limit, filter) };
    },
  }),
  read({
    operationId: 'getPriceBookDraft',
    summary: 'One draft with its content',
    tag: 'price book drafts',
    path: '/v1/price-book-drafts/:draftId',
    access: ['owner'],
    params: idParam('draftId'),
    response: draftSchema,
    versioned: true,
    handle: async ({ sql }, { params }) => {
      const draft = await readDraft(sql, params.draftId);
      const { content } = draft;
      const body = { ...headBody(draft), laborRateCents: laborRateCents(content.rates), content };
      return { body, etag: versionTag(draft.version) };
    },
  }),
  act({
    operationId: 'changePriceBookDraft',
    summary: 'Change sections of an open draft, or single tasks and parts',
    tag: 'price book drafts',
    method: 'PATCH',
    path: '/v1/price-book-drafts/:draftId',
    access: ['owner'],
    params: idParam('draftId'),
    body: draftChangeSchema,
    bodyBytesMax: 16 * 1024 * 1024,
    response: draftHeadSchema,
    ifMatch: true,
    problems: ['not-allowed-now'],
    handle: async (context, { params, body }) =>
      changed(await changeDraft(context, params.draftId, body)),
  }),
  bytes({
    operationId: 'getPriceBookDraftList',
    summary: 'One list of a draft as a CSV file, to be edited and sent back',
    description: 'Its ETag is the draft’s: sent back with it, no change of anybody else is lost.',
    tag: 'price book drafts',
    path: '/v1/price-book-drafts/:draftId/:list.csv',
    access: ['owner'],
    params: draftListParams,
    mediaTypes: [CSV],
    disposition: 'attachment',
    handle: async ({ sql }, { params: { draftId, list } }) => {
      const { content, version } = await readDraft(sql, draftId);
      const file = bookLists[list].write(content);
      const etag = versionTag(version);
      return { bytes: file, mediaType: CSV, etag, fileName: `draft-${list}.csv` };
    },
  }),
  act({
    operationId: 'replacePriceBookDraftList',
    summary: 'Replace one list of an open draft by a CSV file',
    description:
      'The whole list, in the columns in which it is given out, in any order: all of it, or ' +
      'nothing and every mistake by line and column. Up to 10 MiB.',
    tag: 'price book drafts',
    method: 'POST',
    path: '/v1/price-book-drafts/:draftId/:list.csv',
    access: ['owner'],
    params: draftListParams,
    body: sentFileSchema,
    consumes: { mediaTypes: ['text/csv'], bytesMax: 10 * 1024 * 1024 },
    response: draftHeadSchema,
    ifMatch: true,
    problems: ['not-allowed-now', 'file-has-mistakes'],
    handle: async (context, { params: { draftId, list }, body }) =>
      changed(await replaceList(context, draftId, list, body.bytes)),
  }),
  read({
    operationId: 'previewPriceBookDraft',
    summary: 'What a draft changes, and what the quotes issued last would cost under it',
    description: 'Every total is computed again from its stored inputs. Nothing is stored.',
    tag: 'price book drafts',
    path: '/v1/price-book-drafts/:draftId/preview',
    access: ['owner'],
    isReport: true,
    params: idParam('draftId'),
    query: z.strictObject({
      quotes: z.coerce.number().int().min(1).max(200).default(20).meta({
        description: 'How many of the quotes issued last.',
      }),
    }),
    response: draftPreviewSchema,
    problems: ['no-price-book'],
    handle: async (context, { params, query }) => ({
      body: await previewDraft(context, params.draftId, query.quotes),
    }),
  }),
  act({
    operationId: 'publishPriceBookDraft',
    summary: 'Publish a draft as the next version of the price book',
    description:
      'The draft stays as it was published; a correction is another draft. When another book than ' +
      'the one it began as is the newest, that has to be named.',
    tag: 'price book drafts',
    method: 'POST',
    path: '/v1/price-book-drafts/:draftId/publish',
    access: ['owner'],
    params: idParam('draftId'),
    body: draftPublicationSchema,
    response: draftHeadSchema,
    ifMatch: true,
    problems: ['not-allowed-now', 'draft-outdated'],
    handle: async (context, { params, body }) =>
      changed(await publishDraft(context, params.draftId, body)),
  }),
  act({
    operationId: 'dropPriceBookDraft',
    summary: 'Drop a draft that will not be published',
    tag: 'price book drafts',
    method: 'POST',
    path: '/v1/price-book-drafts/:draftId/drop',
    access: ['owner'],
    params: idParam('draftId'),
    response: draftHeadSchema,
    ifMatch: true,
    problems: ['not-allowed-now'],
    handle: async (context, { params }) => changed(await dropDraft(context, params.draftId)),
  }),
];

function changed(draft: DraftHead): Reply<z.input<typeof draftHeadSchema>> {
  return { body: headBody(draft), etag: versionTag(draft.version) };
}
