-- What must never happen on the way from the yes to the money: work nobody agreed to, work sold
-- twice, a bill above what was accepted, a gap in the numbers of invoices, a payment above what is
-- owed. Refused by the database itself, as in the guards before.

SET lock_timeout = '2s';

-- ---------------------------------------------------------------- who did it

ALTER TABLE acceptance_cancellation ADD CONSTRAINT acceptance_cancellation_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);
ALTER TABLE quote_link ADD CONSTRAINT quote_link_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff (id);
ALTER TABLE quote_follow_up ADD CONSTRAINT quote_follow_up_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);
ALTER TABLE consumer_rule ADD CONSTRAINT consumer_rule_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff (id);
ALTER TABLE part_wait ADD CONSTRAINT part_wait_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);
ALTER TABLE work_outcome ADD CONSTRAINT work_outcome_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);
ALTER TABLE part_use ADD CONSTRAINT part_use_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);
ALTER TABLE refrigerant_move ADD CONSTRAINT refrigerant_move_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);
ALTER TABLE ticket_closing ADD CONSTRAINT ticket_closing_closed_by_fkey FOREIGN KEY (closed_by_id) REFERENCES staff (id);
ALTER TABLE ticket_callback ADD CONSTRAINT ticket_callback_reopened_by_fkey FOREIGN KEY (reopened_by_id) REFERENCES staff (id);
ALTER TABLE warranty_claim ADD CONSTRAINT warranty_claim_opened_by_fkey FOREIGN KEY (opened_by_id) REFERENCES staff (id);
ALTER TABLE warranty_claim_step ADD CONSTRAINT warranty_claim_step_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);
ALTER TABLE invoice ADD CONSTRAINT invoice_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff (id);
ALTER TABLE invoice_issue ADD CONSTRAINT invoice_issue_issued_by_fkey FOREIGN KEY (issued_by_id) REFERENCES staff (id);
ALTER TABLE payment ADD CONSTRAINT payment_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);
ALTER TABLE payment_void ADD CONSTRAINT payment_void_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);
ALTER TABLE refund ADD CONSTRAINT refund_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);
ALTER TABLE credit_memo ADD CONSTRAINT credit_memo_issued_by_fkey FOREIGN KEY (issued_by_id) REFERENCES staff (id);

-- ---------------------------------------------------------------- plain checks

ALTER TABLE visit
  ADD CONSTRAINT visit_purpose_known CHECK (purpose IN ('call', 'return', 'callback')),
  -- One fee per trip that was called for; coming back for accepted work or a callback has none.
  ADD CONSTRAINT visit_return_without_fee CHECK (purpose = 'call' OR fee_cents = 0);

-- A yes was either written down by us or given on the customer's own page.
ALTER TABLE quote_acceptance
  ADD CONSTRAINT quote_acceptance_one_witness CHECK (num_nonnulls(recorded_by_id, link_id) = 1),
  ADD CONSTRAINT quote_acceptance_cancel_after_yes CHECK (cancel_until > accepted_at);
ALTER TABLE quote_decline
  ADD CONSTRAINT quote_decline_one_witness CHECK (num_nonnulls(recorded_by_id, link_id) = 1),
  ADD CONSTRAINT quote_decline_condition_left
    CHECK (condition_left IS NOT NULL OR link_id IS NOT NULL);
ALTER TABLE acceptance_cancellation
  ADD CONSTRAINT acceptance_cancellation_one_witness
    CHECK (num_nonnulls(recorded_by_id, link_id) = 1);

ALTER TABLE quote_link
  ADD CONSTRAINT quote_link_holder_known CHECK (holder IN ('approver', 'payer')),
  ADD CONSTRAINT quote_link_token_is_hash CHECK (length(token_hash) = 32),
  ADD CONSTRAINT quote_link_expires_later CHECK (expires_at > created_at);
-- A new link takes the place of the old one, so that a lost one can be made worthless.
CREATE UNIQUE INDEX quote_link_one_live ON quote_link (quote_id, holder) WHERE revoked_at IS NULL;

ALTER TABLE quote_follow_up
  ADD CONSTRAINT quote_follow_up_of_issued FOREIGN KEY (quote_id, revision)
    REFERENCES quote_issue (quote_id, revision),
  ADD CONSTRAINT quote_follow_up_step_positive CHECK (step BETWEEN 1 AND 10),
  ADD CONSTRAINT quote_follow_up_way_known CHECK (way IN ('call', 'text', 'mail', 'in_person'));

ALTER TABLE consumer_rule
  ADD CONSTRAINT consumer_rule_days_forward CHECK (effective_to > effective_from),
  ADD CONSTRAINT consumer_rule_one_per_day EXCLUDE USING gist
    (jurisdiction WITH =, code WITH =, daterange(effective_from, effective_to, '[)') WITH &&);

ALTER TABLE part_wait ADD CONSTRAINT part_wait_of_the_visits_ticket
  FOREIGN KEY (visit_id, ticket_id) REFERENCES visit (id, ticket_id);

ALTER TABLE work_outcome
  ADD CONSTRAINT work_outcome_known CHECK (outcome IN ('done', 'not_done')),
  ADD CONSTRAINT work_outcome_reason_of_not_done CHECK (CASE outcome
    WHEN 'not_done' THEN reason IS NOT NULL AND reason ~ '\S' ELSE reason IS NULL END),
  ADD CONSTRAINT work_outcome_warranty_of_done
    CHECK ((outcome = 'done') = (labor_warranty_until IS NOT NULL));

ALTER TABLE part_use
  ADD CONSTRAINT part_use_one_measure CHECK (num_nonnulls(quantity, measured) = 1),
  ADD CONSTRAINT part_use_quantity_positive
    CHECK (coalesce(quantity, measured) > 0 AND measured IS DISTINCT FROM 'NaN'),
  ADD CONSTRAINT part_use_old_part_known CHECK (old_part IN
    ('given_to_customer', 'customer_did_not_want_it', 'kept_for_claim', 'none'));

ALTER TABLE refrigerant_move
  ADD CONSTRAINT refrigerant_move_direction_known CHECK (direction IN ('charged', 'recovered')),
  ADD CONSTRAINT refrigerant_move_weights CHECK (before_oz >= 0 AND after_oz >= 0
    AND before_oz <> 'NaN' AND after_oz <> 'NaN'
    AND CASE direction WHEN 'charged' THEN before_oz > after_oz ELSE after_oz > before_oz END),
  ADD CONSTRAINT refrigerant_move_certified
    CHECK (certificate_type ~ '\S' AND certificate_number ~ '\S');

ALTER TABLE ticket_closing
  ADD CONSTRAINT ticket_closing_sequence_positive CHECK (sequence >= 1),
  ADD CONSTRAINT ticket_closing_complaint_known
    CHECK (complaint_gone IN ('yes', 'no', 'not_tried'));

ALTER TABLE warranty_claim_state
  ADD CONSTRAINT warranty_claim_state_known CHECK (state IN ('open', 'sent', 'credited', 'refused'));
ALTER TABLE warranty_claim_step
  ADD CONSTRAINT warranty_claim_step_known CHECK (step IN ('sent', 'credited', 'refused')),
  ADD CONSTRAINT warranty_claim_step_whole CHECK (CASE step
    WHEN 'sent' THEN registration IS NOT NULL AND registration ~ '\S' AND amount_cents IS NULL
      AND old_part IS NOT NULL AND old_part IN ('returned', 'kept', 'scrapped')
    WHEN 'credited' THEN amount_cents IS NOT NULL AND amount_cents > 0
      AND reference IS NOT NULL AND reference ~ '\S'
    ELSE reason IS NOT NULL AND reason ~ '\S' AND amount_cents IS NULL END);

ALTER TABLE invoice_issue
  ADD CONSTRAINT invoice_issue_hash_is_of_paper
    CHECK (content_hash = encode(sha256(convert_to(paper::text, 'UTF8')), 'hex')),
  ADD CONSTRAINT invoice_issue_not_negative CHECK (total_cents >= 0 AND tax_cents >= 0),
  ADD CONSTRAINT invoice_issue_has_documents CHECK (document_count >= 0);

ALTER TABLE invoice_document
  ADD CONSTRAINT invoice_document_whole CHECK (CASE kind
    WHEN 'accepted' THEN quote_id IS NOT NULL AND option_id IS NOT NULL AND inputs IS NULL
      AND num_nonnulls(visit_id, undone_quote_id) = 0 AND total_cents >= 0
    WHEN 'visit_fee' THEN visit_id IS NOT NULL AND inputs IS NOT NULL
      AND num_nonnulls(quote_id, option_id, undone_quote_id) = 0 AND total_cents >= 0
    WHEN 'work_not_done' THEN undone_quote_id IS NOT NULL AND inputs IS NULL
      AND num_nonnulls(quote_id, option_id, visit_id) = 0 AND total_cents <= 0 AND tax_cents <= 0
    ELSE false END),
  -- What is billed of an accepted quote is the very total that was accepted.
  ADD CONSTRAINT invoice_document_accepted_total FOREIGN KEY (quote_id, total_cents)
    REFERENCES quote_acceptance (quote_id, total_cents),
  ADD CONSTRAINT invoice_document_accepted_option FOREIGN KEY (option_id, total_cents)
    REFERENCES quote_option (id, total_cents),
  ADD CONSTRAINT invoice_document_undone_quote FOREIGN KEY (undone_quote_id)
    REFERENCES quote_acceptance (quote_id);
-- No yes and no trip is ever billed twice.
CREATE UNIQUE INDEX invoice_document_quote_once ON invoice_document (quote_id);
CREATE UNIQUE INDEX invoice_document_fee_once ON invoice_document (visit_id);
CREATE UNIQUE INDEX invoice_document_undone_once ON invoice_document (undone_quote_id);

ALTER TABLE invoice_line ADD CONSTRAINT invoice_line_tax_is_tax
  CHECK ((kind = 'tax') = (price_class = 'tax'));

ALTER TABLE payment
  ADD CONSTRAINT payment_method_known CHECK (method IN ('cash', 'check', 'card', 'bank_transfer')),
  ADD CONSTRAINT payment_amount_positive CHECK (amount_cents > 0),
  ADD CONSTRAINT payment_reference_given
    CHECK (method = 'cash' OR (reference IS NOT NULL AND reference ~ '\S'));
ALTER TABLE refund
  ADD CONSTRAINT refund_method_known CHECK (method IN ('cash', 'check', 'card', 'bank_transfer')),
  ADD CONSTRAINT refund_amount_positive CHECK (amount_cents > 0),
  ADD CONSTRAINT refund_reference_given
    CHECK (method = 'cash' OR (reference IS NOT NULL AND reference ~ '\S'));
ALTER TABLE payment_void ADD CONSTRAINT payment_void_reason_given CHECK (reason ~ '\S');

ALTER TABLE credit_memo
  ADD CONSTRAINT credit_memo_kind_known
    CHECK (kind IN ('correction', 'work_not_done', 'did_not_cure', 'goodwill')),
  ADD CONSTRAINT credit_memo_reason_given CHECK (reason ~ '\S'),
  ADD CONSTRAINT credit_memo_gives_something CHECK (total_cents > 0 AND tax_cents >= 0),
  ADD CONSTRAINT credit_memo_hash_is_of_paper
    CHECK (content_hash = encode(sha256(convert_to(paper::text, 'UTF8')), 'hex'));
ALTER TABLE credit_memo_line ADD CONSTRAINT credit_memo_line_positive CHECK (amount_cents > 0);

-- ---------------------------------------------------------------- insert-only

DO $$
DECLARE t text;
BEGIN
  FOREACH t IN ARRAY ARRAY[
    'acceptance_cancellation', 'quote_follow_up', 'part_wait', 'work_outcome', 'part_use',
    'refrigerant_move', 'ticket_closing', 'ticket_callback', 'warranty_claim',
    'warranty_claim_step', 'invoice', 'invoice_issue', 'invoice_document', 'invoice_line',
    'payment', 'payment_void', 'refund', 'credit_memo', 'credit_memo_line']
  LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I
      FOR EACH ROW EXECUTE FUNCTION refuse_change()', t || '_insert_only', t);
    EXECUTE format('CREATE TRIGGER %I BEFORE TRUNCATE ON %I
      FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()', t || '_never_emptied', t);
  END LOOP;
END $$;

-- One way to say which guard refused, in the server's own form.
CREATE FUNCTION refuse(guard text, what text) RETURNS void LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  RAISE EXCEPTION '% violates constraint "%"', what, guard
    USING ERRCODE = 'check_violation', CONSTRAINT = guard;
END $$;

-- A guard that waits for somebody must then see what they did. At the stricter levels of isolation
-- a transaction goes on seeing what was there before, and two of them would both find the last
-- dollar still owed.
CREATE FUNCTION refuse_old_view(guard text) RETURNS void LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF current_setting('transaction_isolation') IN ('repeatable read', 'serializable') THEN
    PERFORM refuse(guard, 'a transaction that does not see who came before');
  END IF;
END $$;

-- ---------------------------------------------------------------- links

-- A link is made, and once revoked; nothing else of it ever changes.
CREATE FUNCTION check_quote_link() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'DELETE' OR OLD.revoked_at IS NOT NULL OR NEW.revoked_at IS NULL
    OR to_jsonb(NEW) - 'revoked_at' <> to_jsonb(OLD) - 'revoked_at' THEN
    PERFORM refuse('quote_link_only_revoked', format('%s of quote_link', lower(TG_OP)));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER quote_link_only_revoked BEFORE UPDATE OR DELETE ON quote_link
  FOR EACH ROW EXECUTE FUNCTION check_quote_link();
CREATE TRIGGER quote_link_never_emptied BEFORE TRUNCATE ON quote_link
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- An answer comes through a living link of its own quote.
CREATE FUNCTION check_answer_link() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE at timestamptz := (to_jsonb(NEW) ->> TG_ARGV[0])::timestamptz;
BEGIN
  IF NEW.link_id IS NOT NULL AND NOT EXISTS (SELECT 1 FROM quote_link l
    WHERE l.id = NEW.link_id AND l.quote_id = NEW.quote_id
      AND l.revoked_at IS NULL AND at >= l.created_at AND at < l.expires_at) THEN
    PERFORM refuse(TG_NAME, format('answer to quote %s', NEW.quote_id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER quote_acceptance_living_link BEFORE INSERT ON quote_acceptance
  FOR EACH ROW EXECUTE FUNCTION check_answer_link('accepted_at');
CREATE TRIGGER quote_decline_living_link BEFORE INSERT ON quote_decline
  FOR EACH ROW EXECUTE FUNCTION check_answer_link('declined_at');
CREATE TRIGGER acceptance_cancellation_living_link BEFORE INSERT ON acceptance_cancellation
  FOR EACH ROW EXECUTE FUNCTION check_answer_link('cancelled_at');

-- ---------------------------------------------------------------- change orders

-- What a change order hangs on is an accepted quote of the same ticket, which is none itself.
CREATE FUNCTION check_change_order() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM quote p JOIN quote_acceptance a ON a.quote_id = p.id
    WHERE p.id = NEW.parent_id AND p.parent_id IS NULL AND p.ticket_id = NEW.ticket_id
      AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation c WHERE c.quote_id = p.id)) THEN
    PERFORM refuse('quote_change_order_of_accepted', format('change order %s', NEW.id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER quote_change_order_of_accepted BEFORE INSERT ON quote
  FOR EACH ROW WHEN (NEW.parent_id IS NOT NULL) EXECUTE FUNCTION check_change_order();

-- The findings whose work an accepted option sells. Access lines are shared and do not count.
CREATE FUNCTION sold_findings(option uuid) RETURNS uuid[] LANGUAGE sql STABLE
  SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT coalesce(array_agg(DISTINCT f), '{}') FROM quote_line l, unnest(l.finding_ids) f
  WHERE l.option_id = $1 AND l.kind IN ('part', 'good', 'labor')
$$;

-- One finding is mended once: two accepted documents of a ticket never sell the same work, unless
-- the first one was cancelled or its work was not done.
CREATE FUNCTION check_sold_once() RETURNS trigger LANGUAGE plpgsql
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
      AND NOT EXISTS (SELECT 1 FROM work_outcome w
        WHERE w.quote_id = q.id AND w.finding_id = f AND w.outcome = 'not_done')) THEN
    PERFORM refuse('quote_acceptance_sold_once', format('acceptance of quote %s', NEW.quote_id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER quote_acceptance_sold_once BEFORE INSERT ON quote_acceptance
  FOR EACH ROW EXECUTE FUNCTION check_sold_once();

-- As before, and a yes that was taken back leaves its visit free for another.
CREATE OR REPLACE FUNCTION check_quote_acceptance() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  issue quote_issue%ROWTYPE;
  answered quote%ROWTYPE;
BEGIN
  SELECT * INTO answered FROM quote WHERE id = NEW.quote_id;
  IF answered.parent_id IS NULL THEN
    -- Two yeses to two quotes of one visit wait for each other here.
    PERFORM 1 FROM visit WHERE id = answered.visit_id FOR NO KEY UPDATE;
    IF EXISTS (SELECT 1 FROM quote_acceptance a JOIN quote q ON q.id = a.quote_id
      WHERE q.visit_id = answered.visit_id AND q.parent_id IS NULL AND q.id <> answered.id
        AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation c WHERE c.quote_id = q.id)) THEN
      PERFORM refuse('quote_acceptance_one_per_visit', format('acceptance of quote %s', NEW.quote_id));
    END IF;
  END IF;
  SELECT * INTO issue FROM quote_issue WHERE quote_id = NEW.quote_id AND revision = NEW.revision;
  IF NEW.accepted_at < issue.issued_at OR NEW.accepted_at >= issue.valid_until THEN
    PERFORM refuse('quote_acceptance_in_time', format('acceptance of quote %s', NEW.quote_id));
  END IF;
  IF NOT EXISTS (SELECT 1 FROM quote_option o JOIN quote_revision r ON r.id = o.revision_id
    WHERE o.id = NEW.option_id AND r.quote_id = NEW.quote_id AND r.number = NEW.revision) THEN
    PERFORM refuse('quote_acceptance_option_of_revision', format('acceptance of quote %s', NEW.quote_id));
  END IF;
  RETURN NEW;
END $$;

CREATE FUNCTION check_cancellation() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  PERFORM refuse_old_view(TG_NAME);
  PERFORM 1 FROM ticket WHERE id = (SELECT ticket_id FROM quote WHERE id = NEW.quote_id)
    FOR NO KEY UPDATE;
  IF NOT EXISTS (SELECT 1 FROM quote_acceptance a
    WHERE a.quote_id = NEW.quote_id AND NEW.cancelled_at >= a.accepted_at
      AND NEW.cancelled_at < a.cancel_until) THEN
    PERFORM refuse('acceptance_cancellation_in_time', format('cancellation of quote %s', NEW.quote_id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER acceptance_cancellation_in_time BEFORE INSERT ON acceptance_cancellation
  FOR EACH ROW EXECUTE FUNCTION check_cancellation();

-- ---------------------------------------------------------------- the work

-- Work is recorded at a visit where somebody is or was on site, and while the ticket is open. Who
-- closes the ticket or cancels the yes meanwhile waits, or has come first.
CREATE FUNCTION check_work_while_open() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  at_visit visit%ROWTYPE;
  standing ticket_state;
BEGIN
  PERFORM refuse_old_view(TG_NAME);
  SELECT * INTO at_visit FROM visit WHERE id = NEW.visit_id;
  SELECT state INTO standing FROM ticket WHERE id = at_visit.ticket_id FOR NO KEY UPDATE;
  IF at_visit.state NOT IN ('on_site', 'finished') OR standing IN ('closed', 'cancelled') THEN
    PERFORM refuse(TG_NAME, format('record at visit %s', NEW.visit_id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER work_outcome_while_open BEFORE INSERT ON work_outcome
  FOR EACH ROW EXECUTE FUNCTION check_work_while_open();
CREATE TRIGGER part_use_while_open BEFORE INSERT ON part_use
  FOR EACH ROW EXECUTE FUNCTION check_work_while_open();
CREATE TRIGGER refrigerant_move_while_open BEFORE INSERT ON refrigerant_move
  FOR EACH ROW EXECUTE FUNCTION check_work_while_open();

-- Work is done under a yes of the visit's ticket that sells it and stands. Runs after the row is
-- in, and so after the ticket was locked for it.
CREATE FUNCTION check_work_was_agreed() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM quote q JOIN quote_acceptance a ON a.quote_id = q.id
    JOIN visit v ON v.ticket_id = q.ticket_id
    WHERE q.id = NEW.quote_id AND v.id = NEW.visit_id
      AND NEW.finding_id = ANY (sold_findings(a.option_id))
      AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation c WHERE c.quote_id = q.id)) THEN
    PERFORM refuse(TG_NAME, format('record for finding %s', NEW.finding_id));
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER work_outcome_was_agreed AFTER INSERT ON work_outcome
  FOR EACH ROW EXECUTE FUNCTION check_work_was_agreed();
CREATE TRIGGER part_use_was_agreed AFTER INSERT ON part_use
  FOR EACH ROW EXECUTE FUNCTION check_work_was_agreed();

-- Of a part no more goes in than was sold for its finding; more needs a change order. Pieces and
-- measures are not mixed.
CREATE FUNCTION check_part_use() RETURNS trigger LANGUAGE plpgsql
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
    FROM part_use WHERE quote_id = NEW.quote_id AND finding_id = NEW.finding_id
      AND part_code = NEW.part_code;
  IF used.quantity > sold.quantity OR used.measured > sold.measured THEN
    PERFORM refuse(TG_NAME, format('use of part %s', NEW.part_code));
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER part_use_within_sold AFTER INSERT ON part_use
  FOR EACH ROW EXECUTE FUNCTION check_part_use();

-- Closing is put on record while the ticket may be closed, and by commit it is.
CREATE FUNCTION check_ticket_closing() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE standing ticket_state;
BEGIN
  SELECT state INTO standing FROM ticket WHERE id = NEW.ticket_id FOR NO KEY UPDATE;
  IF standing IS NULL OR standing NOT IN ('work_complete', 'waiting_for_answer') THEN
    PERFORM refuse('ticket_closing_while_open', format('closing of ticket %s, %s,', NEW.ticket_id, standing));
  END IF;
  IF NEW.sequence <> 1 + (SELECT count(*) FROM ticket_closing WHERE ticket_id = NEW.ticket_id) THEN
    PERFORM refuse('ticket_closing_sequence_without_gap', format('closing of ticket %s', NEW.ticket_id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER ticket_closing_while_open BEFORE INSERT ON ticket_closing
  FOR EACH ROW EXECUTE FUNCTION check_ticket_closing();

CREATE FUNCTION check_ticket_closing_effect() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF (SELECT state FROM ticket WHERE id = NEW.ticket_id) <> 'closed' THEN
    PERFORM refuse('ticket_closing_takes_effect', format('closing of ticket %s', NEW.ticket_id));
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER ticket_closing_takes_effect AFTER INSERT ON ticket_closing
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_ticket_closing_effect();

-- A callback reopens the last closing of its ticket until the end of the thirtieth local day. Zones
-- are the program's; here it is the most that thirty-one days can be, with an hour gained in fall.
CREATE FUNCTION check_ticket_callback() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM ticket_closing c WHERE c.id = NEW.closing_id
    AND c.ticket_id = NEW.ticket_id AND NEW.reopened_at >= c.closed_at
    AND NEW.reopened_at < c.closed_at + interval '745 hours'
    AND NOT EXISTS (SELECT 1 FROM ticket_closing later
      WHERE later.ticket_id = c.ticket_id AND later.sequence > c.sequence)) THEN
    PERFORM refuse('ticket_callback_in_time', format('callback of ticket %s', NEW.ticket_id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER ticket_callback_in_time BEFORE INSERT ON ticket_callback
  FOR EACH ROW EXECUTE FUNCTION check_ticket_callback();

-- By commit the ticket is open again.
CREATE FUNCTION check_ticket_callback_effect() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF (SELECT state FROM ticket WHERE id = NEW.ticket_id) = 'closed' THEN
    PERFORM refuse('ticket_callback_takes_effect', format('callback of ticket %s', NEW.ticket_id));
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER ticket_callback_takes_effect AFTER INSERT ON ticket_callback
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_ticket_callback_effect();

-- ---------------------------------------------------------------- claims

-- A maker owes us only for what the customer had for nothing.
CREATE FUNCTION check_warranty_claim() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM part_use u JOIN quote_acceptance a ON a.quote_id = u.quote_id
    JOIN quote_line l ON l.option_id = a.option_id
    WHERE u.id = NEW.part_use_id AND l.kind IN ('part', 'good') AND l.code = u.part_code
      AND u.finding_id = ANY (l.finding_ids) AND l.amount_cents = 0) THEN
    PERFORM refuse('warranty_claim_of_free_part', format('claim for part use %s', NEW.part_use_id));
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER warranty_claim_of_free_part AFTER INSERT ON warranty_claim
  FOR EACH ROW EXECUTE FUNCTION check_warranty_claim();

CREATE FUNCTION check_warranty_claim_state() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'DELETE' THEN PERFORM refuse('warranty_claim_state_moves', 'delete'); END IF;
  IF TG_OP = 'INSERT' THEN
    IF NEW.state <> 'open' THEN PERFORM refuse('warranty_claim_state_moves', 'a new claim'); END IF;
    RETURN NEW;
  END IF;
  IF NEW.claim_id <> OLD.claim_id OR NEW.version <> OLD.version + 1
    OR (OLD.state, NEW.state) NOT IN (('open', 'sent'), ('sent', 'credited'), ('sent', 'refused'))
    OR NOT EXISTS (SELECT 1 FROM warranty_claim_step s
      WHERE s.claim_id = NEW.claim_id AND s.step = NEW.state) THEN
    PERFORM refuse('warranty_claim_state_moves', format('a step from %s to %s', OLD.state, NEW.state));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER warranty_claim_state_moves BEFORE INSERT OR UPDATE OR DELETE ON warranty_claim_state
  FOR EACH ROW EXECUTE FUNCTION check_warranty_claim_state();
CREATE TRIGGER warranty_claim_state_never_emptied BEFORE TRUNCATE ON warranty_claim_state
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- A step is put on record in the one state it follows from, and by commit the claim has taken it:
-- a credit lying beside a refusal would be posted all the same.
CREATE FUNCTION check_warranty_claim_step() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE standing text;
BEGIN
  SELECT state INTO standing FROM warranty_claim_state WHERE claim_id = NEW.claim_id FOR NO KEY UPDATE;
  IF standing IS DISTINCT FROM (CASE NEW.step WHEN 'sent' THEN 'open' ELSE 'sent' END) THEN
    PERFORM refuse('warranty_claim_step_follows', format('step of claim %s, %s,', NEW.claim_id, standing));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER warranty_claim_step_follows BEFORE INSERT ON warranty_claim_step
  FOR EACH ROW EXECUTE FUNCTION check_warranty_claim_step();

CREATE FUNCTION check_warranty_claim_step_effect() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE standing text;
BEGIN
  SELECT state INTO standing FROM warranty_claim_state WHERE claim_id = NEW.claim_id;
  IF standing = 'open' OR (NEW.step <> 'sent' AND standing <> NEW.step) THEN
    PERFORM refuse('warranty_claim_step_takes_effect', format('step of claim %s, %s,', NEW.claim_id, standing));
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER warranty_claim_step_takes_effect AFTER INSERT ON warranty_claim_step
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_warranty_claim_step_effect();

-- ---------------------------------------------------------------- the invoice

CREATE FUNCTION check_invoice_closing() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF EXISTS (SELECT 1 FROM ticket_closing c
    WHERE c.id = NEW.closing_id AND c.ticket_id <> NEW.ticket_id) THEN
    PERFORM refuse('invoice_of_the_closings_ticket', format('invoice of ticket %s', NEW.ticket_id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER invoice_of_the_closings_ticket BEFORE INSERT ON invoice
  FOR EACH ROW EXECUTE FUNCTION check_invoice_closing();

-- Numbers follow each other: the lock makes two issuers wait, the check refuses a gap.
CREATE FUNCTION check_number_without_gap() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE newest int;
BEGIN
  PERFORM pg_advisory_xact_lock(hashtextextended(TG_TABLE_NAME || ' number', 0));
  EXECUTE format('SELECT coalesce(max(number), 0) FROM %I', TG_TABLE_NAME) INTO newest;
  IF NEW.number <> newest + 1 THEN
    PERFORM refuse(TG_NAME, format('number %s after %s', NEW.number, newest));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER invoice_issue_number_without_gap BEFORE INSERT ON invoice_issue
  FOR EACH ROW EXECUTE FUNCTION check_number_without_gap();
CREATE TRIGGER credit_memo_number_without_gap BEFORE INSERT ON credit_memo
  FOR EACH ROW EXECUTE FUNCTION check_number_without_gap();

-- What is owed: below zero when we owe the customer.
CREATE FUNCTION invoice_balance(of_invoice uuid) RETURNS bigint LANGUAGE sql STABLE
  SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT i.total_cents
    - coalesce((SELECT sum(total_cents) FROM credit_memo WHERE invoice_id = $1), 0)
    - coalesce((SELECT sum(p.amount_cents) FROM payment p WHERE p.invoice_id = $1
        AND NOT EXISTS (SELECT 1 FROM payment_void v WHERE v.payment_id = p.id)), 0)
    + coalesce((SELECT sum(amount_cents) FROM refund WHERE invoice_id = $1), 0)
  FROM invoice_issue i WHERE i.invoice_id = $1
$$;

-- Two who take or give money for one invoice wait for each other on its state.
CREATE FUNCTION lock_invoice_for_money() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  of_invoice uuid;
  standing invoice_state_name;
BEGIN
  PERFORM refuse_old_view(TG_NAME);
  IF TG_TABLE_NAME = 'payment_void' THEN
    SELECT invoice_id INTO of_invoice FROM payment WHERE id = NEW.payment_id;
  ELSE
    of_invoice := NEW.invoice_id;
  END IF;
  SELECT state INTO standing FROM invoice_state WHERE invoice_id = of_invoice FOR NO KEY UPDATE;
  IF standing IS NULL OR standing = 'draft' THEN
    PERFORM refuse(TG_NAME, format('%s of invoice %s', TG_TABLE_NAME, of_invoice));
  END IF;
  RETURN NEW;
END $$;

CREATE FUNCTION check_money() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  of_invoice uuid;
  balance bigint;
  credited bigint;
  billed bigint;
  given_back bigint;
  paid bigint;
BEGIN
  IF TG_TABLE_NAME = 'payment_void' THEN
    SELECT invoice_id INTO of_invoice FROM payment WHERE id = NEW.payment_id;
  ELSE
    of_invoice := NEW.invoice_id;
  END IF;
  balance := invoice_balance(of_invoice);
  IF TG_TABLE_NAME = 'payment' AND balance < 0 THEN
    PERFORM refuse('payment_within_balance', format('payment of invoice %s', of_invoice));
  ELSIF TG_TABLE_NAME = 'refund' AND balance > 0 THEN
    PERFORM refuse('refund_within_overpaid', format('refund of invoice %s', of_invoice));
  ELSIF TG_TABLE_NAME = 'credit_memo' THEN
    SELECT coalesce(sum(total_cents), 0) INTO credited FROM credit_memo WHERE invoice_id = of_invoice;
    SELECT total_cents INTO billed FROM invoice_issue WHERE invoice_id = of_invoice;
    IF credited > billed THEN
      PERFORM refuse('credit_memo_within_invoice', format('credit memo of invoice %s', of_invoice));
    END IF;
  ELSIF TG_TABLE_NAME = 'payment_void' THEN
    SELECT coalesce(sum(amount_cents), 0) INTO given_back FROM refund WHERE invoice_id = of_invoice;
    SELECT coalesce(sum(p.amount_cents), 0) INTO paid FROM payment p WHERE p.invoice_id = of_invoice
      AND NOT EXISTS (SELECT 1 FROM payment_void v WHERE v.payment_id = p.id);
    IF given_back > paid THEN
      PERFORM refuse('payment_void_leaves_refunds_covered', format('void of payment %s', NEW.payment_id));
    END IF;
  END IF;
  RETURN NULL;
END $$;

-- Settled means that nothing is owed either way, and the other way round; looked at by commit.
CREATE FUNCTION check_settled() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  of_invoice uuid;
  standing invoice_state_name;
BEGIN
  IF TG_TABLE_NAME = 'payment_void' THEN
    SELECT invoice_id INTO of_invoice FROM payment WHERE id = NEW.payment_id;
  ELSE
    of_invoice := NEW.invoice_id;
  END IF;
  SELECT state INTO standing FROM invoice_state WHERE invoice_id = of_invoice;
  IF standing <> 'draft' AND (standing = 'settled') <> (invoice_balance(of_invoice) = 0) THEN
    PERFORM refuse('invoice_settled_at_zero', format('invoice %s, %s,', of_invoice, standing));
  END IF;
  RETURN NULL;
END $$;

DO $$
DECLARE t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['payment', 'payment_void', 'refund', 'credit_memo'] LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE INSERT ON %I FOR EACH ROW
      EXECUTE FUNCTION lock_invoice_for_money()', t || '_of_issued_invoice', t);
    EXECUTE format('CREATE TRIGGER %I AFTER INSERT ON %I FOR EACH ROW
      EXECUTE FUNCTION check_money()', t || '_counts', t);
    EXECUTE format('CREATE CONSTRAINT TRIGGER %I AFTER INSERT ON %I
      DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_settled()', t || '_settles', t);
  END LOOP;
END $$;

-- An invoice moves from draft to issued, and between issued and settled as money comes and goes.
CREATE FUNCTION check_invoice_state() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'DELETE' THEN PERFORM refuse('invoice_state_moves', 'delete'); END IF;
  IF TG_OP = 'INSERT' THEN
    IF NEW.state <> 'draft' THEN PERFORM refuse('invoice_state_moves', 'a new invoice'); END IF;
    RETURN NEW;
  END IF;
  IF NEW.invoice_id <> OLD.invoice_id OR NEW.version <> OLD.version + 1
    OR (OLD.state::text, NEW.state::text) NOT IN
      (('draft', 'issued'), ('draft', 'settled'), ('issued', 'issued'), ('issued', 'settled'),
       ('settled', 'issued'), ('settled', 'settled')) THEN
    PERFORM refuse('invoice_state_moves', format('a step from %s to %s', OLD.state, NEW.state));
  END IF;
  IF NOT EXISTS (SELECT 1 FROM invoice_issue WHERE invoice_id = NEW.invoice_id) THEN
    PERFORM refuse('invoice_state_needs_issue', format('invoice %s', NEW.invoice_id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER invoice_state_moves BEFORE INSERT OR UPDATE OR DELETE ON invoice_state
  FOR EACH ROW EXECUTE FUNCTION check_invoice_state();
CREATE TRIGGER invoice_state_never_emptied BEFORE TRUNCATE ON invoice_state
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE CONSTRAINT TRIGGER invoice_state_settles AFTER UPDATE ON invoice_state
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_settled();

CREATE FUNCTION check_invoice_issue() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE standing invoice_state_name;
BEGIN
  SELECT state INTO standing FROM invoice_state WHERE invoice_id = NEW.invoice_id FOR UPDATE;
  IF standing IS DISTINCT FROM 'draft' THEN
    PERFORM refuse('invoice_issue_while_draft', format('issue of invoice %s, %s,', NEW.invoice_id, standing));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER invoice_issue_while_draft BEFORE INSERT ON invoice_issue
  FOR EACH ROW EXECUTE FUNCTION check_invoice_issue();

CREATE FUNCTION check_invoice_issue_effect() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF (SELECT state FROM invoice_state WHERE invoice_id = NEW.invoice_id) = 'draft' THEN
    PERFORM refuse('invoice_issue_takes_effect', format('issue of invoice %s', NEW.invoice_id));
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER invoice_issue_takes_effect AFTER INSERT ON invoice_issue
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_invoice_issue_effect();

-- An invoice has as many documents as it says, and a document as many lines; all places are taken
-- once it is issued, so what is slipped in later finds none. The sums are then looked at once, by
-- commit of the issue, however many lines there are.
CREATE FUNCTION check_invoice_document() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM invoice_issue i WHERE i.invoice_id = NEW.invoice_id
    AND NEW.position BETWEEN 1 AND i.document_count) THEN
    PERFORM refuse('invoice_document_in_its_place', format('document %s of invoice %s', NEW.position, NEW.invoice_id));
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER invoice_document_in_its_place AFTER INSERT ON invoice_document
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_invoice_document();

CREATE FUNCTION check_invoice_line() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM invoice_document d WHERE d.invoice_id = NEW.invoice_id
    AND d.position = NEW.document AND NEW.position BETWEEN 1 AND d.line_count) THEN
    PERFORM refuse('invoice_line_in_its_place', format('line %s of document %s of invoice %s',
      NEW.position, NEW.document, NEW.invoice_id));
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER invoice_line_in_its_place AFTER INSERT ON invoice_line
  FOR EACH ROW EXECUTE FUNCTION check_invoice_line();

-- An accepted quote of the ticket is billed line for line as it was accepted, while its yes stands
-- and when of everything it sells is on record whether it was done.
CREATE FUNCTION check_billed_as_accepted(billed invoice_document, of_ticket uuid) RETURNS void
  LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
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
  -- unless there is nothing left to take; what was done is not taken off.
  IF EXISTS (
    SELECT 1 FROM (
      SELECT coalesce(l.aimed_at, l.key) AS charge, sum(l.amount_cents) AS net,
        coalesce(sum(off.amount_cents), 0) AS off
      FROM quote_line l LEFT JOIN invoice_document d
        ON d.invoice_id = billed.invoice_id AND d.undone_quote_id = billed.quote_id
      LEFT JOIN invoice_line off
        ON off.invoice_id = d.invoice_id AND off.document = d.position AND off.key = 'undone:' || l.key
      WHERE l.option_id = billed.option_id AND l.kind <> 'tax' GROUP BY 1) AS each,
    LATERAL (
      SELECT cardinality(c.finding_ids) > 0 AND NOT EXISTS (
        SELECT 1 FROM unnest(c.finding_ids) f WHERE NOT EXISTS (SELECT 1 FROM work_outcome w
          WHERE w.quote_id = billed.quote_id AND w.finding_id = f AND w.outcome = 'not_done')) AS undone
      FROM quote_line c WHERE c.option_id = billed.option_id AND c.key = each.charge) AS work,
    LATERAL (
      SELECT sum(total_cents) AS left_over FROM invoice_document
      WHERE invoice_id = billed.invoice_id AND billed.quote_id IN (quote_id, undone_quote_id)) AS rest
    WHERE CASE
      WHEN NOT work.undone THEN each.off <> 0
      WHEN rest.left_over > 0 THEN each.off <> -each.net
      ELSE each.off NOT BETWEEN -each.net AND 0 END) THEN
    PERFORM refuse('invoice_undone_as_accepted', what);
  END IF;
END $$;

-- A trip that was called for and made is billed at no more than the caller was told, once, by
-- itself or in the yes that came of it.
CREATE FUNCTION check_billed_fee(billed invoice_document, of_ticket uuid) RETURNS void
  LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  what text := format('document %s of invoice %s', billed.position, billed.invoice_id);
  trip visit%ROWTYPE;
  fee bigint;
BEGIN
  SELECT * INTO trip FROM visit WHERE id = billed.visit_id;
  IF trip.ticket_id <> of_ticket THEN PERFORM refuse('invoice_document_of_ticket', what); END IF;
  SELECT coalesce(sum(amount_cents), 0) INTO fee FROM invoice_line
    WHERE invoice_id = billed.invoice_id AND document = billed.position AND price_class = 'visit_fee';
  IF trip.purpose <> 'call' OR trip.state <> 'finished' OR fee > trip.fee_cents
    OR billed.total_cents - billed.tax_cents <> fee OR billed.tax_cents NOT BETWEEN 0 AND fee THEN
    PERFORM refuse('invoice_fee_as_told', what);
  END IF;
END $$;

-- What takes off work not done names lines of its quote, which is billed beside it, and leaves
-- neither a total nor a tax below zero.
CREATE FUNCTION check_undone(billed invoice_document) RETURNS void
  LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  beside invoice_document%ROWTYPE;
  rest record;
BEGIN
  SELECT * INTO beside FROM invoice_document d
    WHERE d.invoice_id = billed.invoice_id AND d.quote_id = billed.undone_quote_id;
  SELECT sum(total_cents) AS total, sum(tax_cents) AS tax INTO rest FROM invoice_document d
    WHERE d.invoice_id = billed.invoice_id AND billed.undone_quote_id IN (d.quote_id, d.undone_quote_id);
  IF beside.invoice_id IS NULL OR rest.total < 0 OR rest.tax < 0 OR EXISTS (
    SELECT 1 FROM invoice_line off
    WHERE off.invoice_id = billed.invoice_id AND off.document = billed.position AND off.kind <> 'tax'
      AND NOT EXISTS (SELECT 1 FROM quote_line l WHERE l.option_id = beside.option_id
        AND off.key = 'undone:' || l.key AND off.price_class = l.price_class AND l.kind <> 'tax')) THEN
    PERFORM refuse('invoice_undone_within_accepted',
      format('document %s of invoice %s', billed.position, billed.invoice_id));
  END IF;
END $$;

CREATE FUNCTION check_invoice() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  of_ticket uuid;
  billed invoice_document%ROWTYPE;
  sums record;
BEGIN
  SELECT ticket_id INTO of_ticket FROM invoice WHERE id = NEW.invoice_id;
  SELECT count(*) AS count, coalesce(sum(total_cents), 0) AS total, coalesce(sum(tax_cents), 0) AS tax
    INTO sums FROM invoice_document WHERE invoice_id = NEW.invoice_id;
  IF sums.count <> NEW.document_count OR sums.total <> NEW.total_cents OR sums.tax <> NEW.tax_cents THEN
    PERFORM refuse('invoice_adds_up', format('invoice %s', NEW.invoice_id));
  END IF;
  FOR billed IN SELECT * FROM invoice_document WHERE invoice_id = NEW.invoice_id LOOP
    SELECT count(*) AS count, coalesce(sum(amount_cents), 0) AS total,
      coalesce(sum(amount_cents) FILTER (WHERE kind = 'tax'), 0) AS tax
      INTO sums FROM invoice_line WHERE invoice_id = NEW.invoice_id AND document = billed.position;
    IF sums.count <> billed.line_count OR sums.total <> billed.total_cents OR sums.tax <> billed.tax_cents THEN
      PERFORM refuse('invoice_document_adds_up', format('document %s of invoice %s', billed.position, NEW.invoice_id));
    END IF;
    CASE billed.kind
      WHEN 'accepted' THEN PERFORM check_billed_as_accepted(billed, of_ticket);
      WHEN 'visit_fee' THEN PERFORM check_billed_fee(billed, of_ticket);
      ELSE PERFORM check_undone(billed);
    END CASE;
  END LOOP;
  -- Over all invoices: a fee in a yes and the fee of the same trip by itself, or two yeses that
  -- both have it, together stay within what was told.
  IF EXISTS (
    SELECT 1 FROM (
      SELECT coalesce(d.visit_id, q.visit_id) AS visit_id, bool_or(d.visit_id IS NOT NULL) AS alone,
        bool_or(q.id IS NOT NULL AND q.parent_id IS NULL) AS in_a_yes,
        coalesce(sum(l.amount_cents) FILTER (WHERE l.price_class = 'visit_fee'), 0) AS cents
      FROM invoice i JOIN invoice_document d ON d.invoice_id = i.id
      LEFT JOIN quote q ON q.id = d.quote_id
      JOIN invoice_line l ON l.invoice_id = d.invoice_id AND l.document = d.position
      WHERE i.ticket_id = of_ticket AND d.undone_quote_id IS NULL GROUP BY 1) AS fee
    JOIN visit v ON v.id = fee.visit_id
    WHERE fee.cents > v.fee_cents OR (fee.alone AND fee.in_a_yes)) THEN
    PERFORM refuse('invoice_fee_once', format('invoice %s', NEW.invoice_id));
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER invoice_adds_up AFTER INSERT ON invoice_issue
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_invoice();

-- ---------------------------------------------------------------- credit memos

CREATE FUNCTION check_credit_memo_line() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF EXISTS (SELECT 1 FROM credit_memo m WHERE m.id = NEW.memo_id
    AND NEW.position NOT BETWEEN 1 AND m.line_count) THEN
    PERFORM refuse('credit_memo_line_in_its_place', format('line %s of credit memo %s', NEW.position, NEW.memo_id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER credit_memo_line_in_its_place BEFORE INSERT ON credit_memo_line
  FOR EACH ROW EXECUTE FUNCTION check_credit_memo_line();

-- Looked at by commit, once for the memo: it adds up, names lines of its invoice, and all memos
-- together give back of a line no more than was charged for it after its discounts and without the
-- work not done, and of a document's tax no more than the tax.
CREATE FUNCTION check_credit_memo() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE sums record;
BEGIN
  SELECT count(*) AS count, coalesce(sum(amount_cents), 0) AS total,
    coalesce(sum(amount_cents) FILTER (WHERE price_class = 'tax'), 0) AS tax
    INTO sums FROM credit_memo_line WHERE memo_id = NEW.id;
  IF sums.count <> NEW.line_count OR sums.total <> NEW.total_cents OR sums.tax <> NEW.tax_cents THEN
    PERFORM refuse('credit_memo_adds_up', format('credit memo %s', NEW.id));
  END IF;
  IF EXISTS (
    SELECT 1 FROM (
      SELECT c.document, c.price_class, CASE WHEN c.price_class <> 'tax' THEN c.key END AS key,
        sum(c.amount_cents) AS given
      FROM credit_memo_line c JOIN credit_memo m ON m.id = c.memo_id
      WHERE m.invoice_id = NEW.invoice_id GROUP BY 1, 2, 3) AS credited
    JOIN invoice_document d ON d.invoice_id = NEW.invoice_id AND d.position = credited.document
    LEFT JOIN invoice_document u ON u.invoice_id = d.invoice_id AND u.undone_quote_id = d.quote_id,
    LATERAL (
      SELECT coalesce(sum(l.amount_cents), 0) + CASE WHEN credited.key IS NULL
        THEN coalesce(u.tax_cents, 0)
        ELSE coalesce(sum((SELECT off.amount_cents FROM invoice_line off
          WHERE off.invoice_id = u.invoice_id AND off.document = u.position
            AND off.key = 'undone:' || l.key)), 0) END AS cents
      FROM invoice_line l WHERE l.invoice_id = d.invoice_id AND l.document = d.position
        AND CASE WHEN credited.key IS NULL THEN l.kind = 'tax'
          ELSE l.kind <> 'tax' AND credited.key IN (l.key, l.aimed_at) END) AS charged
    WHERE credited.given > charged.cents)
    OR EXISTS (SELECT 1 FROM credit_memo_line c WHERE c.memo_id = NEW.id AND NOT EXISTS (
      SELECT 1 FROM invoice_line l WHERE l.invoice_id = NEW.invoice_id AND l.document = c.document
        AND l.price_class = c.price_class AND (l.kind = 'tax' OR l.key = c.key))) THEN
    PERFORM refuse('credit_memo_within_line', format('credit memo %s', NEW.id));
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER credit_memo_adds_up AFTER INSERT ON credit_memo
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_credit_memo();

-- ---------------------------------------------------------------- who may

-- Guards run with the rights of whoever writes; what they call is for them and nobody else.
REVOKE EXECUTE ON FUNCTION refuse(text, text), refuse_old_view(text), sold_findings(uuid),
  invoice_balance(uuid), check_billed_as_accepted(invoice_document, uuid),
  check_billed_fee(invoice_document, uuid), check_undone(invoice_document) FROM PUBLIC;
GRANT EXECUTE ON FUNCTION refuse(text, text), refuse_old_view(text), sold_findings(uuid),
  invoice_balance(uuid), check_billed_as_accepted(invoice_document, uuid),
  check_billed_fee(invoice_document, uuid), check_undone(invoice_document) TO evenhand_app;

GRANT SELECT ON quote_link, acceptance_cancellation, quote_follow_up, consumer_rule, part_wait,
  work_outcome, part_use, refrigerant_move, ticket_closing, ticket_callback, warranty_claim,
  warranty_claim_state, warranty_claim_step, invoice, invoice_state, invoice_issue,
  invoice_document, invoice_line, payment, payment_void, refund, credit_memo, credit_memo_line
  TO evenhand_app, evenhand_read;
-- A hash is no key, but reports have no use for it.
REVOKE ALL ON quote_link FROM evenhand_read;
GRANT INSERT ON quote_link, acceptance_cancellation, quote_follow_up, consumer_rule, part_wait,
  work_outcome, part_use, refrigerant_move, ticket_closing, ticket_callback, warranty_claim,
  warranty_claim_state, warranty_claim_step, invoice, invoice_state, invoice_issue,
  invoice_document, invoice_line, payment, payment_void, refund, credit_memo, credit_memo_line
  TO evenhand_app;
GRANT UPDATE (revoked_at) ON quote_link TO evenhand_app;
GRANT UPDATE (effective_to, confirmed_by) ON consumer_rule TO evenhand_app;
GRANT UPDATE (state, version, changed_at) ON warranty_claim_state, invoice_state TO evenhand_app;
GRANT USAGE ON SEQUENCE receipt_number_seq TO evenhand_app;
