-- What was sold and did not go in, and why.
CREATE TABLE "part_left_over" (
    "id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "quote_id" UUID NOT NULL,
    "finding_id" UUID NOT NULL,
    "part_code" TEXT NOT NULL,
    "quantity" INTEGER,
    "measured" DECIMAL(12,3),
    "reason" TEXT NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_by_id" UUID NOT NULL,
    CONSTRAINT "part_left_over_pkey" PRIMARY KEY ("id")
);
CREATE INDEX "part_left_over_visit_id_idx" ON "part_left_over"("visit_id");
CREATE INDEX "part_left_over_quote_id_idx" ON "part_left_over"("quote_id");
CREATE INDEX "part_left_over_finding_id_idx" ON "part_left_over"("finding_id");
CREATE INDEX "part_left_over_recorded_by_id_idx" ON "part_left_over"("recorded_by_id");
ALTER TABLE "part_left_over" ADD CONSTRAINT "part_left_over_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "part_left_over" ADD CONSTRAINT "part_left_over_quote_id_fkey" FOREIGN KEY ("quote_id") REFERENCES "quote_acceptance"("quote_id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "part_left_over" ADD CONSTRAINT "part_left_over_finding_id_fkey" FOREIGN KEY ("finding_id") REFERENCES "finding"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE part_left_over
  ADD CONSTRAINT part_left_over_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id),
  ADD CONSTRAINT part_left_over_one_measure CHECK (num_nonnulls(quantity, measured) = 1),
  ADD CONSTRAINT part_left_over_quantity_positive
    CHECK (coalesce(quantity, measured) > 0 AND measured IS DISTINCT FROM 'NaN'),
  ADD CONSTRAINT part_left_over_reason_given CHECK (reason ~ '\S');

CREATE TRIGGER part_left_over_insert_only BEFORE UPDATE OR DELETE ON part_left_over
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER part_left_over_never_emptied BEFORE TRUNCATE ON part_left_over
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER part_left_over_while_open BEFORE INSERT ON part_left_over
  FOR EACH ROW EXECUTE FUNCTION check_work_while_open();
CREATE TRIGGER part_left_over_was_agreed AFTER INSERT ON part_left_over
  FOR EACH ROW EXECUTE FUNCTION check_work_was_agreed();

-- Of a part no more goes in or stays over than was sold for its finding; more needs a change order.
-- Pieces and measures are not mixed.
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
    FROM (SELECT quote_id, finding_id, part_code, quantity, measured FROM part_use
      UNION ALL SELECT quote_id, finding_id, part_code, quantity, measured FROM part_left_over) AS each
    WHERE quote_id = NEW.quote_id AND finding_id = NEW.finding_id AND part_code = NEW.part_code;
  IF used.quantity > sold.quantity OR used.measured > sold.measured THEN
    PERFORM refuse(TG_NAME, format('use of part %s', NEW.part_code));
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER part_left_over_within_sold AFTER INSERT ON part_left_over
  FOR EACH ROW EXECUTE FUNCTION check_part_use();

-- The parts and goods of an accepted quote of which less went in than was sold, by their line.
CREATE FUNCTION goods_used_less(accepted_quote uuid) RETURNS TABLE (key text, used text)
  LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT l.key, trim_scale(went_in.amount)::text
  FROM quote_acceptance a
  JOIN quote_line l ON l.option_id = a.option_id AND l.kind IN ('part', 'good'),
  LATERAL (SELECT coalesce(sum(coalesce(u.quantity, u.measured)), 0) AS amount FROM part_use u
    WHERE u.quote_id = a.quote_id AND u.part_code = l.code AND u.finding_id = ANY (l.finding_ids))
    AS went_in
  WHERE a.quote_id = $1 AND went_in.amount < coalesce(l.quantity, l.measured)
$$;

-- As before; goods of which less went in than was sold may come off too, and some of the way in that
-- served work not done. The fee is waived whole or stands; its credit may be cut, never raised.
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
    WHERE NOT EXISTS (SELECT 1 FROM work_outcome w
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
        SELECT 1 FROM unnest(c.finding_ids) f WHERE NOT EXISTS (SELECT 1 FROM work_outcome w
          WHERE w.quote_id = billed.quote_id AND w.finding_id = f AND w.outcome = 'not_done')) AS undone,
        c.kind = 'access' AND EXISTS (SELECT 1 FROM work_outcome w WHERE w.quote_id = billed.quote_id
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

-- As before; where the fee is taxed and labor is not, less of its credit can bring more tax, though
-- the whole is never above what was accepted.
ALTER TABLE invoice_document DROP CONSTRAINT invoice_document_whole;
ALTER TABLE invoice_document ADD CONSTRAINT invoice_document_whole CHECK (CASE kind
  WHEN 'accepted' THEN quote_id IS NOT NULL AND option_id IS NOT NULL AND inputs IS NULL
    AND num_nonnulls(visit_id, undone_quote_id) = 0 AND total_cents >= 0
  WHEN 'visit_fee' THEN visit_id IS NOT NULL AND inputs IS NOT NULL
    AND num_nonnulls(quote_id, option_id, undone_quote_id) = 0 AND total_cents >= 0
  WHEN 'work_not_done' THEN undone_quote_id IS NOT NULL AND inputs IS NULL
    AND num_nonnulls(quote_id, option_id, visit_id) = 0 AND total_cents <= 0
  ELSE false END);

-- A yes taken back takes with it what was added to it, however late that was agreed to.
CREATE OR REPLACE FUNCTION check_cancellation() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  PERFORM refuse_old_view(TG_NAME);
  PERFORM 1 FROM ticket WHERE id = (SELECT ticket_id FROM quote WHERE id = NEW.quote_id)
    FOR NO KEY UPDATE;
  IF NOT EXISTS (SELECT 1 FROM quote_acceptance a JOIN quote q ON q.id = a.quote_id
    WHERE a.quote_id = NEW.quote_id AND NEW.cancelled_at >= a.accepted_at
      AND (NEW.cancelled_at < a.cancel_until OR EXISTS (SELECT 1 FROM acceptance_cancellation c
        WHERE c.quote_id = q.parent_id AND c.cancelled_at = NEW.cancelled_at))) THEN
    PERFORM refuse('acceptance_cancellation_in_time', format('cancellation of quote %s', NEW.quote_id));
  END IF;
  RETURN NEW;
END $$;

-- Nothing stays agreed to under a yes that was taken back; looked at by commit.
CREATE FUNCTION check_cancelled_whole() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF EXISTS (SELECT 1 FROM quote q JOIN quote_acceptance a ON a.quote_id = q.id
    WHERE q.parent_id = NEW.quote_id
      AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation c WHERE c.quote_id = q.id)) THEN
    PERFORM refuse('acceptance_cancellation_with_change_orders',
      format('cancellation of quote %s', NEW.quote_id));
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER acceptance_cancellation_with_change_orders
  AFTER INSERT ON acceptance_cancellation
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_cancelled_whole();

ALTER TABLE credit_memo DROP CONSTRAINT credit_memo_kind_known;
ALTER TABLE credit_memo ADD CONSTRAINT credit_memo_kind_known
  CHECK (kind IN ('correction', 'work_not_done', 'did_not_cure', 'yes_cancelled', 'goodwill'));

REVOKE EXECUTE ON FUNCTION goods_used_less(uuid) FROM PUBLIC;
GRANT EXECUTE ON FUNCTION goods_used_less(uuid) TO evenhand_app;
GRANT SELECT ON part_left_over TO evenhand_app, evenhand_read;
GRANT INSERT ON part_left_over TO evenhand_app;

-- A memo that follows from a customer's own act has no member of staff behind it.
ALTER TABLE credit_memo ALTER COLUMN issued_by_id DROP NOT NULL;
ALTER TABLE credit_memo ADD CONSTRAINT credit_memo_issued_by_somebody
  CHECK (issued_by_id IS NOT NULL OR kind = 'yes_cancelled');
