-- Erasing a person: what is personal goes, what law and bookkeeping need stays. Everything that may be
-- overwritten is listed here, column by column; src/erasing/README.md gives the reasons.

SET lock_timeout = '2s';

-- CreateTable
CREATE TABLE "person_erasure" (
    "id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "reason" TEXT NOT NULL,
    "erased_at" TIMESTAMPTZ(6) NOT NULL,
    "erased_by_id" UUID NOT NULL,
    CONSTRAINT "person_erasure_pkey" PRIMARY KEY ("id")
);
CREATE UNIQUE INDEX "person_erasure_customer_key" ON "person_erasure"("customer_id");
CREATE INDEX "person_erasure_erased_by_id_idx" ON "person_erasure"("erased_by_id");
ALTER TABLE "person_erasure" ADD CONSTRAINT "person_erasure_customer_id_fkey"
  FOREIGN KEY ("customer_id") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE person_erasure ADD CONSTRAINT person_erasure_erased_by_fkey
  FOREIGN KEY (erased_by_id) REFERENCES staff (id);
ALTER TABLE person_erasure ADD CONSTRAINT person_erasure_reason_given CHECK (reason ~ '\S');

GRANT SELECT, INSERT ON person_erasure TO evenhand_app;
GRANT SELECT ON person_erasure TO evenhand_read;

CREATE TRIGGER person_erasure_insert_only BEFORE UPDATE OR DELETE ON person_erasure
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER person_erasure_never_emptied BEFORE TRUNCATE ON person_erasure
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- ---------------------------------------------------------------- what an erasure may touch

-- The personal columns of rows that otherwise never change.
CREATE FUNCTION erasable_columns(of_table text) RETURNS text[] LANGUAGE sql IMMUTABLE
  SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT CASE of_table
    WHEN 'observation' THEN '{note}'
    WHEN 'phone_check' THEN '{end_note,danger_over_note}'
    WHEN 'phone_answer' THEN '{answer,number_value,note}'
    WHEN 'priority_override' THEN '{reason}'
    WHEN 'ticket_callback' THEN '{complaint}'
    WHEN 'part_wait' THEN '{waiting_for,told_to}'
    WHEN 'quote_follow_up' THEN '{note}'
    WHEN 'quote_acceptance' THEN '{address,user_agent}'
    WHEN 'acceptance_cancellation' THEN '{address,user_agent}'
    WHEN 'delivery_state' THEN '{sent_to,reason}'
    WHEN 'audit_answer' THEN '{reason,letter}'
    WHEN 'finding_override' THEN '{reason}'
    WHEN 'work_outcome' THEN '{reason}'
    WHEN 'part_left_over' THEN '{reason}'
    WHEN 'work_strike' THEN '{reason}'
    WHEN 'warranty_claim_step' THEN '{registration,reference,reason}'
    WHEN 'payment' THEN '{reference,paid_by_name}'
    WHEN 'payment_void' THEN '{reason}'
    WHEN 'refund' THEN '{reference}'
    WHEN 'stock_move' THEN '{reason}'
    WHEN 'supplier_bill_line' THEN '{description}'
    WHEN 'bill_import' THEN '{file_name}'
    WHEN 'imported_bill' THEN '{content,judgement}'
    WHEN 'day_plan' THEN '{content,rests_on}'
    ELSE '{}' END::text[]
$$;

-- Whether a change of a row does nothing but erase, in the very transaction that puts an erasure on
-- record: nobody else's transaction sees that row with its own number.
CREATE FUNCTION erases(of_table text, before jsonb, after jsonb) RETURNS boolean LANGUAGE sql STABLE
  SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT before - erasable_columns(of_table) = after - erasable_columns(of_table)
    AND EXISTS (SELECT FROM person_erasure WHERE xmin = pg_current_xact_id()::xid)
    AND NOT EXISTS (SELECT FROM unnest(erasable_columns(of_table)) AS name
      WHERE after -> name IS DISTINCT FROM before -> name
        AND after ->> name IS NOT NULL AND strpos(after ->> name, 'erased') = 0)
$$;

CREATE OR REPLACE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'UPDATE' AND to_jsonb(OLD) <> to_jsonb(NEW)
    AND erases(TG_TABLE_NAME, to_jsonb(OLD), to_jsonb(NEW)) THEN RETURN NEW; END IF;
  RAISE EXCEPTION '% of % violates constraint "%"', lower(TG_OP), TG_TABLE_NAME, TG_NAME
    USING ERRCODE = 'restrict_violation', CONSTRAINT = TG_NAME, TABLE = TG_TABLE_NAME;
END $$;

-- These two change along their lives, each under a guard of its own. Whoever erases passes it; in
-- the order of their names this one would come too late, so it stands within.
CREATE OR REPLACE FUNCTION check_phone_check() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'UPDATE' AND erases(TG_TABLE_NAME, to_jsonb(OLD), to_jsonb(NEW)) THEN
    RETURN NEW;
  END IF;
  IF TG_OP = 'DELETE' OR (CASE
    WHEN OLD.outcome IS NULL THEN NEW.outcome IS NOT NULL AND NEW.danger_over_at IS NULL
    ELSE OLD.danger_over_at IS NULL AND NEW.danger_over_at IS NOT NULL
      AND (NEW.outcome, NEW.danger_code, NEW.ended_at, NEW.end_note)
        IS NOT DISTINCT FROM (OLD.outcome, OLD.danger_code, OLD.ended_at, OLD.end_note) END
    AND to_jsonb(NEW) - '{outcome,danger_code,ended_at,end_note,danger_over_at,danger_over_note,danger_over_by_id}'::text[]
      = to_jsonb(OLD) - '{outcome,danger_code,ended_at,end_note,danger_over_at,danger_over_note,danger_over_by_id}'::text[])
    IS NOT TRUE THEN
    PERFORM refuse('phone_check_ends_once', format('%s of phone check %s', lower(TG_OP), OLD.id));
  END IF;
  RETURN NEW;
END $$;

CREATE OR REPLACE FUNCTION check_imported_bill() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'UPDATE' AND erases(TG_TABLE_NAME, to_jsonb(OLD), to_jsonb(NEW)) THEN
    RETURN NEW;
  END IF;
  IF TG_OP = 'DELETE'
    OR to_jsonb(NEW) - '{judgement,flag_count,over_cents,ruleset_version,price_book_version_id}'::text[]
      <> to_jsonb(OLD) - '{judgement,flag_count,over_cents,ruleset_version,price_book_version_id}'::text[] THEN
    PERFORM refuse(TG_NAME, format('%s of imported bill %s', lower(TG_OP), OLD.id));
  END IF;
  RETURN NEW;
END $$;

CREATE OR REPLACE FUNCTION check_delivery_state() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'UPDATE' AND erases(TG_TABLE_NAME, to_jsonb(OLD), to_jsonb(NEW)) THEN
    RETURN NEW;
  END IF;
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

-- ---------------------------------------------------------------- whose is what

-- Sites with which nobody else has to do.
CREATE FUNCTION sites_of_nobody_else(person uuid) RETURNS SETOF uuid LANGUAGE sql STABLE
  SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT id FROM site WHERE occupant_id = person AND approver_id = person AND payer_id = person
$$;

-- Tickets whose words are this person's: called in by them, or of where they live.
CREATE FUNCTION tickets_told_by(person uuid) RETURNS SETOF uuid LANGUAGE sql STABLE
  SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT t.id FROM ticket t JOIN site s ON s.id = t.site_id
  WHERE t.caller_id = person OR s.occupant_id = person
$$;

-- What still binds us to a person: a code and the number of what it is about.
CREATE FUNCTION bonds_of(person uuid, at timestamptz) RETURNS TABLE (code text, number text)
  LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  WITH theirs AS (
    SELECT t.id, t.number, t.state, s.payer_id FROM ticket t JOIN site s ON s.id = t.site_id
    WHERE person IN (t.caller_id, s.occupant_id, s.approver_id, s.payer_id)
  )
  SELECT 'ticket_open', number::text FROM theirs
    WHERE state NOT IN ('closed', 'resolved_by_phone', 'cancelled')
  UNION ALL
  SELECT 'money_open', coalesce(i.number::text, 'draft of ticket ' || t.number)
    FROM invoice v JOIN ticket t ON t.id = v.ticket_id JOIN invoice_state s ON s.invoice_id = v.id
    LEFT JOIN invoice_issue i ON i.invoice_id = v.id
    WHERE v.payer_id = person AND s.state <> 'settled'
  UNION ALL
  SELECT 'not_billed', t.number::text FROM theirs t
    WHERE t.payer_id = person AND EXISTS (SELECT FROM ticket_closing c WHERE c.ticket_id = t.id
        AND NOT EXISTS (SELECT FROM invoice v WHERE v.closing_id = c.id)
        AND NOT EXISTS (SELECT FROM ticket_closing later
          WHERE later.ticket_id = c.ticket_id AND later.sequence > c.sequence))
      AND (EXISTS (SELECT FROM visit v WHERE v.ticket_id = t.id AND v.state = 'finished'
          AND v.fee_cents > 0)
        OR EXISTS (SELECT FROM quote q JOIN quote_acceptance a ON a.quote_id = q.id
          WHERE q.ticket_id = t.id
            AND NOT EXISTS (SELECT FROM acceptance_cancellation x WHERE x.quote_id = q.id)))
      AND NOT EXISTS (SELECT FROM invoice v WHERE v.ticket_id = t.id)
  UNION ALL
  SELECT 'may_still_cancel', q.number::text
    FROM theirs t JOIN quote q ON q.ticket_id = t.id JOIN quote_acceptance a ON a.quote_id = q.id
    WHERE a.cancel_until > at
      AND NOT EXISTS (SELECT FROM acceptance_cancellation x WHERE x.quote_id = q.id)
  UNION ALL
  SELECT 'agreement_running', a.plan_code FROM site_agreement a
    WHERE a.site_id IN (SELECT sites_of_nobody_else(person)) AND a.ends_on > company_day(at)
  UNION ALL
  SELECT 'paper_under_way', p.number FROM delivery d JOIN paper p ON p.id = d.paper_id
    JOIN delivery_state s ON s.delivery_id = d.id
    WHERE d.customer_id = person AND s.state IN ('waiting', 'sending')
$$;

CREATE FUNCTION check_person_erasure() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  PERFORM refuse_old_view(TG_NAME);
  IF EXISTS (SELECT FROM bonds_of(NEW.customer_id, NEW.erased_at)) THEN
    PERFORM refuse(TG_NAME, format('erasure of customer %s', NEW.customer_id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER person_erasure_nothing_open BEFORE INSERT ON person_erasure
  FOR EACH ROW EXECUTE FUNCTION check_person_erasure();

-- By commit the person is gone: an erasure on record that erased nothing would be a lie.
CREATE FUNCTION check_person_erased() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NOT EXISTS (SELECT FROM customer WHERE id = NEW.customer_id AND name = 'erased') THEN
    PERFORM refuse('person_erasure_takes_effect', format('erasure of customer %s', NEW.customer_id));
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER person_erasure_takes_effect AFTER INSERT ON person_erasure
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_person_erased();

-- And nobody writes a person into that row again.
CREATE FUNCTION check_customer_erased() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF OLD.name = 'erased' AND EXISTS (SELECT FROM person_erasure WHERE customer_id = OLD.id) THEN
    PERFORM refuse(TG_NAME, format('change of customer %s', OLD.id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER customer_stays_erased BEFORE UPDATE ON customer
  FOR EACH ROW EXECUTE FUNCTION check_customer_erased();

-- ---------------------------------------------------------------- the erasing itself

-- How a person is found in what somebody else wrote: regular expressions of name, phone, e-mail and,
-- where nobody else lives there, street. A phone number is found however its digits are set apart.
CREATE FUNCTION signs_of(person uuid) RETURNS text[] LANGUAGE sql STABLE
  SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT coalesce(array_agg(DISTINCT sign), '{}') FROM (
    SELECT '***=' || said AS sign FROM customer c, LATERAL (
      SELECT c.name AS said UNION SELECT c.email
      UNION SELECT street FROM site WHERE id IN (SELECT sites_of_nobody_else(person))) words
    WHERE c.id = person AND length(said) >= 4
    -- As JSON writes it, where that is otherwise.
    UNION SELECT '***=' || trim(both '"' from to_json(name)::text) FROM customer
    WHERE id = person AND length(name) >= 4
    UNION SELECT array_to_string(regexp_split_to_array(phone_digits, ''), '[^0-9]{0,3}')
    FROM customer WHERE id = person AND length(phone_digits) >= 7) signs
$$;

-- The words of the name alone, for what is of this person's own tickets anyway.
CREATE FUNCTION words_of(person uuid) RETURNS text[] LANGUAGE sql STABLE
  SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT coalesce(array_agg('\m' || word || '\M'), '{}')
  FROM customer, regexp_split_to_table(name, '[^[:alpha:]]+') AS word
  WHERE id = person AND length(word) >= 4
$$;

CREATE FUNCTION without_signs(said text, signs text[]) RETURNS text LANGUAGE plpgsql IMMUTABLE
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE sign text;
BEGIN
  FOREACH sign IN ARRAY signs LOOP
    said := regexp_replace(said, sign, 'erased', 'gi');
  END LOOP;
  RETURN said;
END $$;

-- SECURITY DEFINER: the application may read and add to what is erased here, and never change it. It
-- erases nobody whose erasure this very transaction has not put on record.
CREATE FUNCTION erase_person(person uuid) RETURNS TABLE (what text, "rows" bigint) LANGUAGE plpgsql
  SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  signs text[] := signs_of(person);
  own_signs text[] := signs || words_of(person);
  sites uuid[] := ARRAY (SELECT sites_of_nobody_else(person));
  homes uuid[] := ARRAY (SELECT id FROM site WHERE occupant_id = person);
  tickets uuid[] := ARRAY (SELECT tickets_told_by(person));
  paid uuid[] := ARRAY (SELECT id FROM invoice WHERE payer_id = person OR ticket_id = ANY (tickets));
  visits uuid[];
  quotes uuid[];
  checks uuid[];
BEGIN
  IF NOT EXISTS (SELECT FROM person_erasure
    WHERE customer_id = person AND xmin = pg_current_xact_id()::xid) THEN
    RAISE EXCEPTION 'erasing customer % is not on record', person USING ERRCODE = 'insufficient_privilege';
  END IF;
  visits := ARRAY (SELECT id FROM visit WHERE ticket_id = ANY (tickets));
  quotes := ARRAY (SELECT id FROM quote WHERE ticket_id = ANY (tickets));
  checks := ARRAY (SELECT id FROM phone_check WHERE ticket_id = ANY (tickets));

  -- What the person, or somebody of them, said.
  UPDATE ticket SET complaint = 'erased', version = version + 1,
    closing_note = CASE WHEN closing_note IS NOT NULL THEN 'erased' END WHERE id = ANY (tickets);
  UPDATE ticket_callback SET complaint = 'erased' WHERE ticket_id = ANY (tickets);
  RETURN QUERY SELECT 'complaints', cardinality(tickets)::bigint;

  UPDATE phone_check SET end_note = CASE WHEN end_note IS NOT NULL THEN 'erased' END,
    danger_over_note = CASE WHEN danger_over_note IS NOT NULL THEN 'erased' END
    WHERE id = ANY (checks) AND num_nonnulls(end_note, danger_over_note) > 0;
  UPDATE phone_answer SET answer = 'erased', number_value = NULL,
    note = CASE WHEN note IS NOT NULL THEN 'erased' END WHERE phone_check_id = ANY (checks);
  UPDATE call_back SET note = 'erased', version = version + 1
    WHERE ticket_id = ANY (tickets) AND note IS NOT NULL;
  UPDATE priority_override SET reason = 'erased' WHERE ticket_id = ANY (tickets);
  RETURN QUERY SELECT 'phone_checks', cardinality(checks)::bigint;

  UPDATE visit SET version = version + 1, fee_agreed_by = 'erased',
    window_agreed_by = CASE WHEN window_agreed_by IS NOT NULL THEN 'erased' END,
    end_note = CASE WHEN end_note IS NOT NULL THEN 'erased' END WHERE id = ANY (visits);
  RETURN QUERY SELECT 'visits', cardinality(visits)::bigint;

  UPDATE observation SET note = 'erased' WHERE ticket_id = ANY (tickets) AND note IS NOT NULL;
  UPDATE part_wait SET told_to = 'erased', waiting_for = without_signs(waiting_for, own_signs)
    WHERE ticket_id = ANY (tickets);
  UPDATE quote_follow_up SET note = 'erased' WHERE quote_id = ANY (quotes) AND note IS NOT NULL;

  -- From where the answers at a link came; the answers themselves are papers.
  UPDATE quote_acceptance SET address = NULL, user_agent = NULL
    WHERE (quote_id = ANY (quotes) OR link_id IN (SELECT id FROM quote_link WHERE holder_id = person))
      AND num_nonnulls(address, user_agent) > 0;
  UPDATE acceptance_cancellation SET address = NULL, user_agent = NULL
    WHERE (quote_id = ANY (quotes) OR link_id IN (SELECT id FROM quote_link WHERE holder_id = person))
      AND num_nonnulls(address, user_agent) > 0;
  UPDATE quote_link l SET revoked_at = e.erased_at FROM person_erasure e
    WHERE e.customer_id = person AND l.holder_id = person AND l.revoked_at IS NULL;

  -- What went out: to which address, and letters that no paper is.
  UPDATE delivery_state s SET sent_to = NULL, reason = without_signs(s.reason, own_signs)
    FROM delivery d WHERE d.id = s.delivery_id AND d.customer_id = person
      AND (s.sent_to IS NOT NULL OR s.reason <> without_signs(s.reason, own_signs));
  RETURN QUERY SELECT 'deliveries', count(*) FROM delivery WHERE customer_id = person;
  UPDATE audit_answer a SET letter = CASE WHEN letter IS NOT NULL THEN 'erased' END,
    reason = without_signs(reason, own_signs)
    FROM audit_flag f WHERE f.id = a.flag_id AND f.ticket_id = ANY (tickets)
      AND (letter IS NOT NULL OR reason <> without_signs(reason, own_signs));

  -- Reasons our people gave stay, without the person in them.
  UPDATE finding_override o SET reason = without_signs(reason, own_signs) FROM finding f
    WHERE f.id = o.finding_id AND f.visit_id = ANY (visits)
      AND reason <> without_signs(reason, own_signs);
  UPDATE work_outcome SET reason = without_signs(reason, own_signs)
    WHERE visit_id = ANY (visits) AND reason <> without_signs(reason, own_signs);
  UPDATE part_left_over SET reason = without_signs(reason, own_signs)
    WHERE visit_id = ANY (visits) AND reason <> without_signs(reason, own_signs);
  UPDATE work_strike SET reason = without_signs(reason, own_signs)
    WHERE reason <> without_signs(reason, own_signs) AND (
      work_outcome_id IN (SELECT id FROM work_outcome WHERE visit_id = ANY (visits))
      OR part_use_id IN (SELECT id FROM part_use WHERE visit_id = ANY (visits))
      OR part_left_over_id IN (SELECT id FROM part_left_over WHERE visit_id = ANY (visits))
      OR refrigerant_move_id IN (SELECT id FROM refrigerant_move WHERE visit_id = ANY (visits)));
  UPDATE warranty_claim_step s SET registration = without_signs(registration, own_signs),
    reference = without_signs(reference, own_signs), reason = without_signs(reason, own_signs)
    FROM warranty_claim c JOIN part_use u ON u.id = c.part_use_id
    WHERE c.id = s.claim_id AND u.visit_id = ANY (visits)
      AND (registration, reference, reason) IS DISTINCT FROM (without_signs(registration, own_signs),
        without_signs(reference, own_signs), without_signs(reason, own_signs));

  -- Money keeps its day, amount and number.
  UPDATE payment SET paid_by_name = NULL, reference = without_signs(reference, own_signs)
    WHERE invoice_id = ANY (paid)
      AND (paid_by_name IS NOT NULL OR reference <> without_signs(reference, own_signs));
  UPDATE payment_void v SET reason = without_signs(reason, own_signs) FROM payment p
    WHERE p.id = v.payment_id AND p.invoice_id = ANY (paid)
      AND reason <> without_signs(reason, own_signs);
  UPDATE refund SET reference = without_signs(reference, own_signs)
    WHERE invoice_id = ANY (paid) AND reference <> without_signs(reference, own_signs);
  RETURN QUERY SELECT 'payers', count(*) FROM payment WHERE invoice_id = ANY (paid);

  -- Where the person may be named though nothing leads there.
  UPDATE stock_move SET reason = without_signs(reason, signs)
    WHERE reason <> without_signs(reason, signs);
  UPDATE supplier_bill_line SET description = without_signs(description, signs)
    WHERE description <> without_signs(description, signs);
  UPDATE bill_import SET file_name = without_signs(file_name, signs)
    WHERE file_name <> without_signs(file_name, signs);
  UPDATE imported_bill SET content = without_signs(content::text, signs)::json,
    judgement = without_signs(judgement::text, signs)::json
    WHERE content::text <> without_signs(content::text, signs)
      OR judgement::text <> without_signs(judgement::text, signs);
  UPDATE day_plan SET content = without_signs(content::text, signs)::json,
    rests_on = without_signs(rests_on::text, signs)::json
    WHERE content::text <> without_signs(content::text, signs)
      OR rests_on::text <> without_signs(rests_on::text, signs);
  -- Answers kept for repeated requests: those that tell of the person by name or identifier.
  DELETE FROM idempotency_key WHERE body <> without_signs(body, signs)
    OR headers::text <> without_signs(headers::text, signs) OR strpos(body, person::text) > 0
    OR body ~ array_to_string(sites || tickets || quotes, '|', NULL)
      AND cardinality(sites || tickets || quotes) > 0;

  UPDATE site_agreement SET agreed_by_name = 'erased', version = version + 1
    WHERE site_id = ANY (sites) OR agreed_by_name <> without_signs(agreed_by_name, signs);
  UPDATE site SET access_notes = NULL, version = version + 1
    WHERE id = ANY (homes) AND access_notes IS NOT NULL AND NOT id = ANY (sites);
  UPDATE site SET street = 'erased', unit = NULL, postal_code = 'erased', access_notes = NULL,
    latitude_deg = NULL, longitude_deg = NULL, version = version + 1 WHERE id = ANY (sites);
  RETURN QUERY SELECT 'addresses', cardinality(sites)::bigint;

  -- Last: what is above finds the person by these. A new salt that nobody keeps makes every hash of
  -- these values in the journal mean nothing, and leaves the journal whole.
  UPDATE customer SET name = 'erased', phone = 'erased', email = NULL, version = version + 1,
    journal_salt = uuid_send(gen_random_uuid()) WHERE id = person;
  RETURN QUERY SELECT 'person', 1::bigint;
END $$;

REVOKE EXECUTE ON FUNCTION erasable_columns(text), erases(text, jsonb, jsonb),
  sites_of_nobody_else(uuid), tickets_told_by(uuid), bonds_of(uuid, timestamptz), signs_of(uuid),
  words_of(uuid), without_signs(text, text[]), erase_person(uuid) FROM PUBLIC;
GRANT EXECUTE ON FUNCTION erasable_columns(text), erases(text, jsonb, jsonb),
  sites_of_nobody_else(uuid), bonds_of(uuid, timestamptz), signs_of(uuid), words_of(uuid),
  without_signs(text, text[]), erase_person(uuid) TO evenhand_app;
