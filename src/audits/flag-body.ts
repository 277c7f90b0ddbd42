import type { z } from 'zod';
import { allowedActions, auditFlagAnswers } from '../lifecycles/index.ts';
import { versionTag } from '../platform/http/etag.ts';
import type { Reply } from '../platform/http/route.ts';
import type { flagSchema } from './contract.ts';
import { correctionBody } from './correction-body.ts';
import type { WholeFlag } from './flag-of.ts';
import { ruleBody } from './rule-body.ts';

type FlagBody = z.input<typeof flagSchema>;

/** A flag as an answer, with its tag. */
export function answerWithFlag(flag: WholeFlag): Reply<FlagBody> {
  return { body: flagBody(flag), etag: versionTag(flag.state.version) };
}

/** A flag as an answer shows it. */
export function flagBody(flag: WholeFlag): FlagBody {
  const { id, ticketId, ticket, sentences, overCents, rulesetVersion, raisedAt } = flag;
  const { state, version } = flag.state;
  return {
    ...{ id, ticketId, sentences: [...sentences], overCents, rulesetVersion, state, version },
    ticketNumber: ticket.number,
    endedAt: ticket.judgement?.endedAt.toISOString() ?? null,
    rule: ruleBody(flag),
    corrections: flag.corrections.map(correctionBody),
    raisedAt: raisedAt.toISOString(),
    allowedActions: allowedActions(auditFlagAnswers, state),
    answer: answerBody(flag),
  };
}

function answerBody({ answer }: WholeFlag): FlagBody['answer'] {
  if (answer === null) return null;
  const { reason, answeredAt, answeredById, letter, letterLanguage, memos } = answer;
  return {
    answer: answer.answer === 'accepted' ? 'accepted' : 'dismissed',
    reason,
    answeredAt: answeredAt.toISOString(),
    answeredById,
    creditMemos: memos.map(({ memo }) => memo),
    letter:
      letter === null ? null : { language: letterLanguage === 'es' ? 'es' : 'en', text: letter },
  };
}
