-- What goes out to whom, and how far it has come. The row of the outbox is written with the paper.

SET lock_timeout = '2s';

CREATE TABLE "delivery" (
    "id" UUID NOT NULL,
    "paper_id" UUID NOT NULL,
    "channel" TEXT NOT NULL,
    "customer_id" UUID NOT NULL,
    "recipient" TEXT NOT NULL,
    "language" TEXT NOT NULL,
    "cause" TEXT NOT NULL,
    "asked_by_id" UUID,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    CONSTRAINT "delivery_pkey" PRIMARY KEY ("id")
);
CREATE TABLE "delivery_state" (
    "delivery_id" UUID NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'waiting',
    "attempts" INTEGER NOT NULL DEFAULT 0,
    "next_at" TIMESTAMPTZ(6),
    "lease_until" TIMESTAMPTZ(6),
    "handed_over_at" TIMESTAMPTZ(6),
    "answer_code" INTEGER,
    "sent_to" TEXT,
    "message_id" TEXT,
    "link_id" UUID,
    "reason" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "changed_at" TIMESTAMPTZ(6) NOT NULL,
    CONSTRAINT "delivery_state_pkey" PRIMARY KEY ("delivery_id")
);
CREATE INDEX "delivery_paper_id_idx" ON "delivery"("paper_id");
CREATE INDEX "delivery_customer_id_idx" ON "delivery"("customer_id");
CREATE INDEX "delivery_asked_by_id_idx" ON "delivery"("asked_by_id");
CREATE INDEX "delivery_state_state_delivery_id_idx" ON "delivery_state"("state", "delivery_id");
CREATE INDEX "delivery_state_link_id_idx" ON "delivery_state"("link_id");
ALTER TABLE "delivery" ADD CONSTRAINT "delivery_paper_id_fkey" FOREIGN KEY ("paper_id") REFERENCES "paper"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "delivery" ADD CONSTRAINT "delivery_customer_id_fkey" FOREIGN KEY ("customer_id") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "delivery_state" ADD CONSTRAINT "delivery_state_delivery_id_fkey" FOREIGN KEY ("delivery_id") REFERENCES "delivery"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "delivery_state" ADD CONSTRAINT "delivery_state_link_id_fkey" FOREIGN KEY ("link_id") REFERENCES "quote_link"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE delivery ADD CONSTRAINT delivery_asked_by_fkey FOREIGN KEY (asked_by_id) REFERENCES staff (id);

-- Links made for a mail: nobody of the staff knows their address.
ALTER TABLE "quote_link" ADD COLUMN "delivery_id" UUID, ALTER COLUMN "created_by_id" DROP NOT NULL;
CREATE INDEX "quote_link_delivery_id_idx" ON "quote_link"("delivery_id");
ALTER TABLE "quote_link" ADD CONSTRAINT "quote_link_delivery_id_fkey" FOREIGN KEY ("delivery_id") REFERENCES "delivery"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE quote_link ADD CONSTRAINT quote_link_one_maker CHECK (num_nonnulls(created_by_id, delivery_id) = 1);
-- A new link that staff makes takes the place of their old one; those in mails stand beside it.
DROP INDEX quote_link_one_live;
CREATE UNIQUE INDEX quote_link_one_live ON quote_link (quote_id, holder, holder_id)
  WHERE revoked_at IS NULL AND delivery_id IS NULL;

-- ---------------------------------------------------------------- guards

ALTER TABLE delivery
  ADD CONSTRAINT delivery_channel_known CHECK (channel IN ('mail', 'text')),
  ADD CONSTRAINT delivery_recipient_known CHECK (recipient IN ('occupant', 'approver', 'payer')),
  ADD CONSTRAINT delivery_language_known CHECK (language IN ('en', 'es')),
  ADD CONSTRAINT delivery_cause_known CHECK (cause IN ('issued', 'asked')),
  ADD CONSTRAINT delivery_issued_by_nobody CHECK (cause = 'asked' OR asked_by_id IS NULL);
-- What is issued goes out by itself once to each person.
CREATE UNIQUE INDEX delivery_issued_once ON delivery (paper_id, customer_id) WHERE cause = 'issued';
CREATE TRIGGER delivery_insert_only BEFORE UPDATE OR DELETE ON delivery
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER delivery_never_emptied BEFORE TRUNCATE ON delivery
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

ALTER TABLE delivery_state
  ADD CONSTRAINT delivery_state_known CHECK (state IN ('waiting', 'sending', 'sent', 'dead')),
  ADD CONSTRAINT delivery_state_whole CHECK (CASE state
    WHEN 'waiting' THEN next_at IS NOT NULL AND num_nonnulls(lease_until, handed_over_at, link_id) = 0
    WHEN 'sending' THEN lease_until IS NOT NULL AND next_at IS NULL AND answer_code IS NULL
    WHEN 'sent' THEN handed_over_at IS NOT NULL AND reason IS NULL
      AND num_nonnulls(next_at, lease_until) = 0
    ELSE reason IS NOT NULL AND reason ~ '\S' AND num_nonnulls(next_at, lease_until) = 0 END);

-- A mail is handed over once. What was handed over is never tried again by a machine, unless the
-- server itself said that it did not take it (its answer is 4xx). What was sent stays sent.
CREATE FUNCTION check_delivery_state() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'DELETE' OR NEW.delivery_id <> OLD.delivery_id OR NEW.version <> OLD.version + 1 THEN
    -- Whoever erases a person takes the address away, and nothing has been delivered by it.
    IF TG_OP = 'UPDATE' AND NEW.sent_to IS NULL
      AND to_jsonb(NEW) - 'sent_to' = to_jsonb(OLD) - 'sent_to' THEN RETURN NEW; END IF;
    PERFORM refuse('delivery_state_steps', format('%s of delivery %s', lower(TG_OP), OLD.delivery_id));
  END IF;
  IF (CASE OLD.state || '>' || NEW.state
    WHEN 'waiting>sending' THEN NEW.attempts = OLD.attempts + 1 AND NEW.handed_over_at IS NULL
    -- The same attempt goes on (a link is made, the mail is handed over), or a crashed one begins anew.
    WHEN 'sending>sending' THEN OLD.handed_over_at IS NULL AND (NEW.attempts = OLD.attempts
      OR (NEW.attempts = OLD.attempts + 1 AND NEW.handed_over_at IS NULL))
    WHEN 'sending>waiting' THEN OLD.handed_over_at IS NULL OR NEW.answer_code BETWEEN 400 AND 499
    WHEN 'sending>sent' THEN NEW.sent_to IS NOT NULL
    WHEN 'sending>dead' THEN NEW.handed_over_at IS NOT DISTINCT FROM OLD.handed_over_at
    WHEN 'dead>waiting' THEN NEW.attempts = 0
    ELSE false END) IS NOT TRUE THEN
    PERFORM refuse('delivery_state_steps',
      format('delivery %s from %s to %s', OLD.delivery_id, OLD.state, NEW.state));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER delivery_state_steps BEFORE UPDATE OR DELETE ON delivery_state
  FOR EACH ROW EXECUTE FUNCTION check_delivery_state();
CREATE TRIGGER delivery_state_never_emptied BEFORE TRUNCATE ON delivery_state
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- The worker's two questions: what is due, and what was left lying by a worker that is gone.
CREATE INDEX delivery_state_due ON delivery_state (next_at) WHERE state = 'waiting';
CREATE INDEX delivery_state_leased ON delivery_state (lease_until) WHERE state = 'sending';

GRANT SELECT ON delivery, delivery_state TO evenhand_app, evenhand_read;
GRANT INSERT ON delivery, delivery_state TO evenhand_app;
GRANT UPDATE (state, attempts, next_at, lease_until, handed_over_at, answer_code, sent_to,
  message_id, link_id, reason, version, changed_at) ON delivery_state TO evenhand_app;
