-- An outcome is a record of its own: one that was struck out stays beside the one that is true.
ALTER TABLE "work_outcome" ADD COLUMN "id" UUID NOT NULL DEFAULT gen_random_uuid();
ALTER TABLE "work_outcome" ALTER COLUMN "id" DROP DEFAULT,
DROP CONSTRAINT "work_outcome_pkey",
ADD CONSTRAINT "work_outcome_pkey" PRIMARY KEY ("id");
CREATE INDEX "work_outcome_quote_id_finding_id_idx" ON "work_outcome"("quote_id", "finding_id");

-- What was written down wrongly of the work is struck out with a reason: the record stays, counts
-- nowhere, and another says what is true.
CREATE TABLE "work_strike" (
    "id" UUID NOT NULL,
    "work_outcome_id" UUID,
    "part_use_id" UUID,
    "part_left_over_id" UUID,
    "refrigerant_move_id" UUID,
    "reason" TEXT NOT NULL,
    "struck_at" TIMESTAMPTZ(6) NOT NULL,
    "struck_by_id" UUID NOT NULL,
    CONSTRAINT "work_strike_pkey" PRIMARY KEY ("id")
);
CREATE UNIQUE INDEX "work_strike_work_outcome_id_key" ON "work_strike"("work_outcome_id");
CREATE UNIQUE INDEX "work_strike_part_use_id_key" ON "work_strike"("part_use_id");
CREATE UNIQUE INDEX "work_strike_part_left_over_id_key" ON "work_strike"("part_left_over_id");
CREATE UNIQUE INDEX "work_strike_refrigerant_move_id_key" ON "work_strike"("refrigerant_move_id");
CREATE INDEX "work_strike_struck_by_id_idx" ON "work_strike"("struck_by_id");
ALTER TABLE "work_strike" ADD CONSTRAINT "work_strike_work_outcome_id_fkey" FOREIGN KEY ("work_outcome_id") REFERENCES "work_outcome"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "work_strike" ADD CONSTRAINT "work_strike_part_use_id_fkey" FOREIGN KEY ("part_use_id") REFERENCES "part_use"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "work_strike" ADD CONSTRAINT "work_strike_part_left_over_id_fkey" FOREIGN KEY ("part_left_over_id") REFERENCES "part_left_over"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "work_strike" ADD CONSTRAINT "work_strike_refrigerant_move_id_fkey" FOREIGN KEY ("refrigerant_move_id") REFERENCES "refrigerant_move"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE work_strike
  ADD CONSTRAINT work_strike_struck_by_fkey FOREIGN KEY (struck_by_id) REFERENCES staff (id),
  ADD CONSTRAINT work_strike_of_one_record
    CHECK (num_nonnulls(work_outcome_id, part_use_id, part_left_over_id, refrigerant_move_id) = 1),
  ADD CONSTRAINT work_strike_reason_given CHECK (reason ~ '\S');

CREATE TRIGGER work_strike_insert_only BEFORE UPDATE OR DELETE ON work_strike
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER work_strike_never_emptied BEFORE TRUNCATE ON work_strike
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- What became of a finding, as it counts.
CREATE VIEW standing_outcome AS SELECT w.* FROM work_outcome w
  WHERE NOT EXISTS (SELECT 1 FROM work_strike s WHERE s.work_outcome_id = w.id);

-- It is said once, unless that was struck out. Runs after the row is in, and so after the ticket was
-- locked for it: of two who say it at once the second sees the first.
CREATE FUNCTION check_outcome_said_once() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF EXISTS (SELECT 1 FROM standing_outcome w
    WHERE w.quote_id = NEW.quote_id AND w.finding_id = NEW.finding_id AND w.id <> NEW.id) THEN
    PERFORM refuse(TG_NAME, format('record for finding %s', NEW.finding_id));
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER work_outcome_said_once AFTER INSERT ON work_outcome
  FOR EACH ROW EXECUTE FUNCTION check_outcome_said_once();

-- Which move took a part from where it lay, so that striking out its use brings it back there.
ALTER TABLE "part_use" ADD COLUMN "stock_move_id" UUID;
CREATE UNIQUE INDEX "part_use_stock_move_id_key" ON "part_use"("stock_move_id");
ALTER TABLE "part_use" ADD CONSTRAINT "part_use_stock_move_id_fkey" FOREIGN KEY ("stock_move_id") REFERENCES "stock_move"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- A use of before took what was moved with it: in the same moment, by the same hand. Where it may
-- have been another move, none is named, and striking out the use brings nothing back.
ALTER TABLE part_use DISABLE TRIGGER part_use_insert_only;
UPDATE part_use u SET stock_move_id = t.move_id
FROM (SELECT of_visit.id AS use_id, m.id AS move_id,
    count(*) OVER (PARTITION BY of_visit.id) AS moves, count(*) OVER (PARTITION BY m.id) AS uses
  FROM part_use of_visit
  JOIN stock_move m ON m.visit_id = of_visit.visit_id AND m.part_code = of_visit.part_code
    AND m.kind = 'used' AND m.quantity = -coalesce(of_visit.quantity, of_visit.measured)
    AND m.moved_at = of_visit.recorded_at AND m.recorded_by_id = of_visit.recorded_by_id) t
WHERE t.use_id = u.id AND t.moves = 1 AND t.uses = 1;
ALTER TABLE part_use ENABLE TRIGGER part_use_insert_only;

-- What a closing has looked at stands: it is billed. Who closes the ticket meanwhile waits, or has
-- come first. Identifiers are in the order of time.
CREATE FUNCTION check_work_strike() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  at_visit visit%ROWTYPE;
  standing ticket_state;
BEGIN
  PERFORM refuse_old_view(TG_NAME);
  SELECT * INTO at_visit FROM visit WHERE id = coalesce(
    (SELECT visit_id FROM work_outcome WHERE id = NEW.work_outcome_id),
    (SELECT visit_id FROM part_use WHERE id = NEW.part_use_id),
    (SELECT visit_id FROM part_left_over WHERE id = NEW.part_left_over_id),
    (SELECT visit_id FROM refrigerant_move WHERE id = NEW.refrigerant_move_id));
  SELECT state INTO standing FROM ticket WHERE id = at_visit.ticket_id FOR NO KEY UPDATE;
  IF standing IN ('closed', 'cancelled') OR EXISTS (SELECT 1 FROM ticket_closing c
      WHERE c.ticket_id = at_visit.ticket_id AND c.id > at_visit.id) THEN
    PERFORM refuse('work_strike_before_closing', format('strike of a record at visit %s', at_visit.id));
  END IF;
  IF EXISTS (SELECT 1 FROM warranty_claim c JOIN warranty_claim_state s ON s.claim_id = c.id
      WHERE c.part_use_id = NEW.part_use_id AND s.state NOT IN ('withdrawn', 'refused')) THEN
    PERFORM refuse('work_strike_of_unclaimed_part', format('strike of part use %s', NEW.part_use_id));
  END IF;
  -- Work that was not done may be sold again, and what was sold since is priced by it.
  IF EXISTS (SELECT 1 FROM work_outcome w JOIN quote q ON q.ticket_id = at_visit.ticket_id
      JOIN quote_acceptance a ON a.quote_id = q.id
      WHERE w.id = NEW.work_outcome_id AND w.outcome = 'not_done' AND q.id <> w.quote_id
        AND a.accepted_at >= w.recorded_at
        AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation c WHERE c.quote_id = q.id)) THEN
    PERFORM refuse('work_strike_of_unsold_outcome', format('strike of outcome %s', NEW.work_outcome_id));
  END IF;
  -- Labor is billed and warranted by what is recorded as done: that is struck out before the last
  -- part of it.
  IF EXISTS (SELECT 1 FROM part_use u
      JOIN standing_outcome w ON w.quote_id = u.quote_id AND w.finding_id = u.finding_id
      WHERE u.id = NEW.part_use_id AND w.outcome = 'done'
        AND NOT EXISTS (SELECT 1 FROM part_use o
          WHERE o.quote_id = u.quote_id AND o.finding_id = u.finding_id AND o.id <> u.id
            AND NOT EXISTS (SELECT 1 FROM work_strike s WHERE s.part_use_id = o.id))) THEN
    PERFORM refuse('work_strike_leaves_done_its_part', format('strike of part use %s', NEW.part_use_id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER work_strike_before_closing BEFORE INSERT ON work_strike
  FOR EACH ROW EXECUTE FUNCTION check_work_strike();

-- As before; what was struck out no more counts.
CREATE OR REPLACE FUNCTION check_part_use() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  sold record;
  used record;
BEGIN
  SELECT coalesce(sum(l.quantity), 0) AS quantity, coalesce(sum(l.measured), 0) AS measured INTO sold
    FROM quote_acceptance a JOIN quote_line l ON l.option_id = a.option_id
    WHERE a.quote_id = NEW.quote_id AND l.kind IN ('part', 'good') AND l.code = NEW.part_code
      AND NEW.finding_id = ANY (l.finding_ids);
  SELECT coalesce(sum(quantity), 0) AS quantity, coalesce(sum(measured), 0) AS measured INTO used
    FROM (SELECT quote_id, finding_id, part_code, quantity, measured FROM part_use u
        WHERE NOT EXISTS (SELECT 1 FROM work_strike s WHERE s.part_use_id = u.id)
      UNION ALL SELECT quote_id, finding_id, part_code, quantity, measured FROM part_left_over o
        WHERE NOT EXISTS (SELECT 1 FROM work_strike s WHERE s.part_left_over_id = o.id)) AS each
    WHERE quote_id = NEW.quote_id AND finding_id = NEW.finding_id AND part_code = NEW.part_code;
  IF used.quantity > sold.quantity OR used.measured > sold.measured THEN
    PERFORM refuse(TG_NAME, format('use of part %s', NEW.part_code));
  END IF;
  RETURN NULL;
END $$;

CREATE OR REPLACE FUNCTION goods_used_less(accepted_quote uuid) RETURNS TABLE (key text, used text)
  LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT l.key, trim_scale(went_in.amount)::text
  FROM quote_acceptance a
  JOIN quote_line l ON l.option_id = a.option_id AND l.kind IN ('part', 'good'),
  LATERAL (SELECT coalesce(sum(coalesce(u.quantity, u.measured)), 0) AS amount FROM part_use u
    WHERE u.quote_id = a.quote_id AND u.part_code = l.code AND u.finding_id = ANY (l.finding_ids)
      AND NOT EXISTS (SELECT 1 FROM work_strike s WHERE s.part_use_id = u.id))
    AS went_in
  WHERE a.quote_id = $1 AND went_in.amount < coalesce(l.quantity, l.measured)
$$;

CREATE OR REPLACE FUNCTION check_parts_and_outcome() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF (CASE TG_TABLE_NAME
    WHEN 'work_outcome' THEN to_jsonb(NEW) ->> 'outcome' = 'not_done' AND EXISTS (
      SELECT 1 FROM part_use u WHERE u.quote_id = NEW.quote_id AND u.finding_id = NEW.finding_id
        AND NOT EXISTS (SELECT 1 FROM work_strike s WHERE s.part_use_id = u.id))
    ELSE EXISTS (SELECT 1 FROM standing_outcome
      WHERE quote_id = NEW.quote_id AND finding_id = NEW.finding_id AND outcome = 'not_done') END) THEN
    PERFORM refuse(TG_NAME, format('record for finding %s', NEW.finding_id));
  END IF;
  RETURN NULL;
END $$;

CREATE OR REPLACE FUNCTION ticket_only_closed(of_ticket uuid) RETURNS boolean
  LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT EXISTS (SELECT 1 FROM quote q JOIN quote_acceptance a ON a.quote_id = q.id
      WHERE q.ticket_id = $1
        AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation c WHERE c.quote_id = q.id))
    OR EXISTS (SELECT 1 FROM visit v WHERE v.ticket_id = $1
      AND (EXISTS (SELECT 1 FROM standing_outcome w WHERE w.visit_id = v.id)
        OR EXISTS (SELECT 1 FROM part_use u WHERE u.visit_id = v.id
          AND NOT EXISTS (SELECT 1 FROM work_strike s WHERE s.part_use_id = u.id))
        OR v.state = 'finished' AND NOT EXISTS (SELECT 1 FROM ticket_closing c
          WHERE c.ticket_id = v.ticket_id AND c.id > v.id)))
$$;

CREATE OR REPLACE FUNCTION check_no_access() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  PERFORM refuse_old_view(TG_NAME);
  IF EXISTS (SELECT 1 FROM reading WHERE visit_id = NEW.id)
    OR EXISTS (SELECT 1 FROM observation WHERE visit_id = NEW.id)
    OR EXISTS (SELECT 1 FROM finding WHERE visit_id = NEW.id)
    OR EXISTS (SELECT 1 FROM quote WHERE visit_id = NEW.id)
    OR EXISTS (SELECT 1 FROM standing_outcome WHERE visit_id = NEW.id)
    OR EXISTS (SELECT 1 FROM part_use u WHERE u.visit_id = NEW.id
      AND NOT EXISTS (SELECT 1 FROM work_strike s WHERE s.part_use_id = u.id))
    OR EXISTS (SELECT 1 FROM part_left_over o WHERE o.visit_id = NEW.id
      AND NOT EXISTS (SELECT 1 FROM work_strike s WHERE s.part_left_over_id = o.id))
    OR EXISTS (SELECT 1 FROM refrigerant_move m WHERE m.visit_id = NEW.id
      AND NOT EXISTS (SELECT 1 FROM work_strike s WHERE s.refrigerant_move_id = m.id)) THEN
    PERFORM refuse(TG_NAME, format('visit %s', NEW.id));
  END IF;
  RETURN NEW;
END $$;

CREATE OR REPLACE FUNCTION check_sold_once() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE of_ticket uuid;
BEGIN
  PERFORM refuse_old_view(TG_NAME);
  SELECT ticket_id INTO of_ticket FROM quote WHERE id = NEW.quote_id;
  -- Two yeses of one ticket, and a yes and the cancellation of another, wait for each other here.
  PERFORM 1 FROM ticket WHERE id = of_ticket FOR NO KEY UPDATE;
  IF EXISTS (SELECT 1 FROM quote q JOIN acceptance_cancellation c ON c.quote_id = q.parent_id
    WHERE q.id = NEW.quote_id) THEN
    PERFORM refuse('quote_acceptance_of_standing_parent', format('acceptance of quote %s', NEW.quote_id));
  END IF;
  IF EXISTS (
    SELECT 1 FROM quote q JOIN quote_acceptance a ON a.quote_id = q.id,
      unnest(sold_findings(a.option_id)) f
    WHERE q.ticket_id = of_ticket AND q.id <> NEW.quote_id
      AND f = ANY (sold_findings(NEW.option_id))
      AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation c WHERE c.quote_id = q.id)
      AND NOT EXISTS (SELECT 1 FROM standing_outcome w
        WHERE w.quote_id = q.id AND w.finding_id = f AND w.outcome = 'not_done')) THEN
    PERFORM refuse('quote_acceptance_sold_once', format('acceptance of quote %s', NEW.quote_id));
  END IF;
  RETURN NEW;
END $$;

CREATE OR REPLACE FUNCTION check_billed_as_accepted(billed invoice_document, of_ticket uuid)
  RETURNS void LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE what text := format('document %s of invoice %s', billed.position, billed.invoice_id);
BEGIN
  IF NOT EXISTS (SELECT 1 FROM quote q JOIN quote_acceptance a ON a.quote_id = q.id
    WHERE q.id = billed.quote_id AND q.ticket_id = of_ticket AND a.option_id = billed.option_id
      AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation c WHERE c.quote_id = q.id)) THEN
    PERFORM refuse('invoice_document_of_ticket', what);
  END IF;
  IF billed.line_count <> (SELECT count(*) FROM quote_line WHERE option_id = billed.option_id)
    OR EXISTS (
      SELECT key, kind, price_class, description, aimed_at, amount_cents FROM invoice_line
        WHERE invoice_id = billed.invoice_id AND document = billed.position
      EXCEPT SELECT key, kind, price_class, description, aimed_at, amount_cents FROM quote_line
        WHERE option_id = billed.option_id) THEN
    PERFORM refuse('invoice_lines_as_accepted', what);
  END IF;
  IF EXISTS (SELECT 1 FROM unnest(sold_findings(billed.option_id)) f
    WHERE NOT EXISTS (SELECT 1 FROM standing_outcome w
      WHERE w.quote_id = billed.quote_id AND w.finding_id = f)) THEN
    PERFORM refuse('invoice_work_on_record', what);
  END IF;
  -- Lines of a charge: itself and what is aimed at it. What was not done is taken off to the cent,
  -- unless there is nothing left to take; what was done is not taken off, except goods not used.
  IF EXISTS (
    SELECT 1 FROM (
      SELECT coalesce(l.aimed_at, l.key) AS charge, sum(l.amount_cents) AS net,
        coalesce(sum(off.amount_cents), 0) AS off,
        coalesce(sum(l.amount_cents) FILTER (WHERE l.kind = 'credit'), 0) AS credit,
        bool_or(l.kind = 'visit_fee') AS is_fee
      FROM quote_line l LEFT JOIN invoice_document d
        ON d.invoice_id = billed.invoice_id AND d.undone_quote_id = billed.quote_id
      LEFT JOIN invoice_line off
        ON off.invoice_id = d.invoice_id AND off.document = d.position AND off.key = 'undone:' || l.key
      WHERE l.option_id = billed.option_id AND l.kind <> 'tax' GROUP BY 1) AS each,
    LATERAL (
      SELECT cardinality(c.finding_ids) > 0 AND NOT EXISTS (
        SELECT 1 FROM unnest(c.finding_ids) f WHERE NOT EXISTS (SELECT 1 FROM standing_outcome w
          WHERE w.quote_id = billed.quote_id AND w.finding_id = f AND w.outcome = 'not_done')) AS undone,
        c.kind = 'access' AND EXISTS (SELECT 1 FROM standing_outcome w WHERE w.quote_id = billed.quote_id
          AND w.finding_id = ANY (c.finding_ids) AND w.outcome = 'not_done') AS partly
      FROM quote_line c WHERE c.option_id = billed.option_id AND c.key = each.charge) AS work,
    LATERAL (
      SELECT sum(total_cents) AS left_over FROM invoice_document
      WHERE invoice_id = billed.invoice_id AND billed.quote_id IN (quote_id, undone_quote_id)) AS rest
    WHERE CASE
      WHEN each.is_fee AND each.off < 0 THEN each.off <> -each.net
      WHEN each.credit < 0 THEN each.off > -each.credit
      WHEN work.undone AND rest.left_over > 0 THEN each.off <> -each.net
      WHEN work.undone OR work.partly OR each.charge IN (SELECT key FROM goods_used_less(billed.quote_id))
        THEN each.off NOT BETWEEN -each.net AND 0
      ELSE each.off <> 0 END) THEN
    PERFORM refuse('invoice_undone_as_accepted', what);
  END IF;
END $$;

CREATE OR REPLACE FUNCTION check_closing_uncured() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM ticket_closing c JOIN visit v ON v.ticket_id = c.ticket_id
    JOIN standing_outcome w ON w.visit_id = v.id
    WHERE c.id = NEW.closing_id AND w.finding_id = NEW.finding_id AND w.outcome = 'done') THEN
    PERFORM refuse('closing_uncured_was_mended', format('finding %s', NEW.finding_id));
  END IF;
  RETURN NEW;
END $$;

-- As before; nor for a part whose use was struck out. Who strikes it out meanwhile waits on the
-- ticket, or has come first.
CREATE OR REPLACE FUNCTION check_warranty_claim() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  PERFORM refuse_old_view(TG_NAME);
  PERFORM 1 FROM ticket WHERE id = (SELECT v.ticket_id FROM part_use u
    JOIN visit v ON v.id = u.visit_id WHERE u.id = NEW.part_use_id) FOR NO KEY UPDATE;
  IF NOT EXISTS (SELECT 1 FROM part_use u JOIN quote_acceptance a ON a.quote_id = u.quote_id
    JOIN quote_line l ON l.option_id = a.option_id
    WHERE u.id = NEW.part_use_id AND l.kind IN ('part', 'good') AND l.code = u.part_code
      AND u.finding_id = ANY (l.finding_ids) AND l.amount_cents = 0
      AND NOT EXISTS (SELECT 1 FROM work_strike s WHERE s.part_use_id = u.id)) THEN
    PERFORM refuse('warranty_claim_of_free_part', format('claim for part use %s', NEW.part_use_id));
  END IF;
  RETURN NULL;
END $$;

-- A claim that was opened by mistake is withdrawn before its maker has it.
ALTER TABLE warranty_claim_state
  DROP CONSTRAINT warranty_claim_state_known,
  ADD CONSTRAINT warranty_claim_state_known
    CHECK (state IN ('open', 'sent', 'credited', 'refused', 'withdrawn'));
ALTER TABLE warranty_claim_step
  DROP CONSTRAINT warranty_claim_step_known,
  ADD CONSTRAINT warranty_claim_step_known
    CHECK (step IN ('sent', 'credited', 'refused', 'withdrawn'));

CREATE OR REPLACE FUNCTION check_warranty_claim_state() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'DELETE' THEN PERFORM refuse('warranty_claim_state_moves', 'delete'); END IF;
  IF TG_OP = 'INSERT' THEN
    IF NEW.state <> 'open' THEN PERFORM refuse('warranty_claim_state_moves', 'a new claim'); END IF;
    RETURN NEW;
  END IF;
  IF NEW.claim_id <> OLD.claim_id OR NEW.version <> OLD.version + 1
    OR (OLD.state, NEW.state) NOT IN (('open', 'sent'), ('open', 'withdrawn'),
      ('sent', 'credited'), ('sent', 'refused'))
    OR NOT EXISTS (SELECT 1 FROM warranty_claim_step s
      WHERE s.claim_id = NEW.claim_id AND s.step = NEW.state) THEN
    PERFORM refuse('warranty_claim_state_moves', format('a step from %s to %s', OLD.state, NEW.state));
  END IF;
  RETURN NEW;
END $$;

CREATE OR REPLACE FUNCTION check_warranty_claim_step() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE standing text;
BEGIN
  SELECT state INTO standing FROM warranty_claim_state WHERE claim_id = NEW.claim_id FOR NO KEY UPDATE;
  IF standing IS DISTINCT FROM
    (CASE WHEN NEW.step IN ('sent', 'withdrawn') THEN 'open' ELSE 'sent' END) THEN
    PERFORM refuse('warranty_claim_step_follows', format('step of claim %s, %s,', NEW.claim_id, standing));
  END IF;
  RETURN NEW;
END $$;

GRANT SELECT ON work_strike, standing_outcome TO evenhand_app, evenhand_read;
GRANT INSERT ON work_strike TO evenhand_app;
