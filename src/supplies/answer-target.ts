import type { z } from 'zod';
import type { StockTarget } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import type { targetSchema } from './contract.ts';

/** A target as an answer, and its tag. */
export function answerTarget({ partCode, reorderAt, orderUpTo, version }: StockTarget) {
  const body: z.input<typeof targetSchema> = {
    partCode,
    reorderAt: reorderAt.toFixed(),
    orderUpTo: orderUpTo.toFixed(),
    version,
  };
  return { body, etag: versionTag(version) };
}
