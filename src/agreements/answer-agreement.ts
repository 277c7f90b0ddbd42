import type { z } from 'zod';
import { dayText } from '../platform/calendar-day.ts';
import type { SiteAgreement } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import { agreementSchema } from '../pricing/index.ts';
import type { siteAgreementSchema } from './contract.ts';

/** An agreement of a site as an answer, and its tag. */
export function answerAgreement(agreement: SiteAgreement) {
  return { body: agreementBody(agreement), etag: agreementTag(agreement) };
}

export function agreementTag({ version }: SiteAgreement): string {
  return versionTag(version);
}

/** An agreement of a site as it is shown. */
export function agreementBody({
  createdById: _,
  ...agreement
}: SiteAgreement): z.input<typeof siteAgreementSchema> {
  return {
    ...agreement,
    plan: agreementSchema.parse(agreement.plan),
    startsOn: dayText(agreement.startsOn),
    endsOn: dayText(agreement.endsOn),
    createdAt: agreement.createdAt.toISOString(),
  };
}
