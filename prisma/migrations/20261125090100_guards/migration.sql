-- What must never happen, refused by the database itself whatever the program does:
-- double booking, a change to what was recorded or issued, sums that do not add up,
-- a second yes, a price without evidence, a touched journal.
--
-- Every function here names its search path with pg_temp last: otherwise whoever may create a
-- temporary table could put one in front of the table a guard reads. Every refusal names its
-- constraint in the message too, in the server's own form, because the typed client keeps only
-- the message.

SET lock_timeout = '2s';

-- ---------------------------------------------------------------- who did it

ALTER TABLE ticket ADD CONSTRAINT ticket_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff (id);
ALTER TABLE reading ADD CONSTRAINT reading_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);
ALTER TABLE observation ADD CONSTRAINT observation_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);
ALTER TABLE visit_photo ADD CONSTRAINT visit_photo_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);
ALTER TABLE finding ADD CONSTRAINT finding_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);
ALTER TABLE finding_override ADD CONSTRAINT finding_override_granted_by_fkey FOREIGN KEY (granted_by_id) REFERENCES staff (id);
ALTER TABLE price_book_version ADD CONSTRAINT price_book_version_published_by_fkey FOREIGN KEY (published_by_id) REFERENCES staff (id);
ALTER TABLE quote ADD CONSTRAINT quote_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff (id);
ALTER TABLE quote_revision ADD CONSTRAINT quote_revision_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff (id);
ALTER TABLE quote_issue ADD CONSTRAINT quote_issue_issued_by_fkey FOREIGN KEY (issued_by_id) REFERENCES staff (id);
ALTER TABLE quote_acceptance ADD CONSTRAINT quote_acceptance_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);
ALTER TABLE quote_decline ADD CONSTRAINT quote_decline_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);

-- ---------------------------------------------------------------- plain checks

-- Lists are empty, never unknown.
ALTER TABLE ticket ALTER COLUMN symptoms SET NOT NULL;
ALTER TABLE tax_rule ALTER COLUMN taxable_classes SET NOT NULL;
ALTER TABLE quote_line ALTER COLUMN finding_ids SET NOT NULL;

ALTER TABLE company ADD CONSTRAINT company_single_row CHECK (id = 1);

ALTER TABLE site ADD CONSTRAINT site_approver_limit_positive CHECK (approver_limit_cents >= 0);

ALTER TABLE visit
  ADD CONSTRAINT visit_window_forward CHECK (window_end > window_start),
  ADD CONSTRAINT visit_fee_not_negative CHECK (fee_cents >= 0),
  ADD CONSTRAINT visit_on_site_has_arrived
    CHECK (state NOT IN ('on_site', 'finished') OR arrived_at IS NOT NULL),
  ADD CONSTRAINT visit_end_note_of_its_end
    CHECK (end_note IS NULL OR state IN ('no_access', 'cancelled'));

ALTER TABLE reading
  ADD CONSTRAINT reading_source_known CHECK (source IN ('measured', 'reported')),
  ADD CONSTRAINT reading_phase_known CHECK (phase IN ('found', 'left')),
  ADD CONSTRAINT reading_value_finite CHECK (value > '-Infinity'::float8 AND value < 'Infinity'::float8);

ALTER TABLE observation
  ADD CONSTRAINT observation_answer_known CHECK (answer IN ('yes', 'no', 'unknown')),
  ADD CONSTRAINT observation_source_known CHECK (source IN ('observed', 'reported')),
  ADD CONSTRAINT observation_phase_known CHECK (phase IN ('found', 'left')),
  -- What is reported by phone has no photo of ours.
  ADD CONSTRAINT observation_photo_of_a_visit CHECK (photo_sha256 IS NULL OR visit_id IS NOT NULL);

ALTER TABLE finding
  ADD CONSTRAINT finding_standing_known
    CHECK (standing IN ('proven', 'supported', 'unproven', 'contradicted', 'not_applicable')),
  ADD CONSTRAINT finding_priceable_needs_support
    CHECK (NOT priceable OR standing IN ('proven', 'supported')),
  ADD CONSTRAINT finding_remedy_known CHECK (remedy_class IN
    ('reset', 'clean', 'adjust', 'repair', 'replace', 'accessory', 'diagnose', 'advise'));

ALTER TABLE finding_part ADD CONSTRAINT finding_part_quantity_positive CHECK (quantity > 0);

ALTER TABLE finding_override ADD CONSTRAINT finding_override_reason_given CHECK (reason ~ '\S');

ALTER TABLE price_book_task ADD CONSTRAINT price_book_task_minutes_sane
  CHECK (minutes BETWEEN 0 AND 6000 AND access_minutes BETWEEN 0 AND 600);

ALTER TABLE price_book_part ADD CONSTRAINT price_book_part_cost_not_negative CHECK (cost_cents >= 0);

ALTER TABLE tax_rule
  ADD CONSTRAINT tax_rule_rate_is_fraction CHECK (rate >= 0 AND rate < 1),
  ADD CONSTRAINT tax_rule_classes_known
    CHECK (taxable_classes <@ ARRAY['visit_fee', 'part', 'labor', 'access']),
  ADD CONSTRAINT tax_rule_days_forward CHECK (effective_to > effective_from),
  ADD CONSTRAINT tax_rule_mode_known CHECK (mode IN ('separated', 'lump_sum')),
  ADD CONSTRAINT tax_rule_basis_known CHECK (basis IN ('item', 'invoice')),
  ADD CONSTRAINT tax_rule_one_per_day EXCLUDE USING gist
    (jurisdiction WITH =, daterange(effective_from, effective_to, '[)') WITH &&);

ALTER TABLE quote_line
  ADD CONSTRAINT quote_line_kind_known CHECK (kind IN
    ('visit_fee', 'part', 'labor', 'access', 'discount', 'credit', 'adjustment', 'tax')),
  ADD CONSTRAINT quote_line_class_known
    CHECK (price_class IN ('visit_fee', 'part', 'labor', 'access', 'tax')),
  -- A price that cannot be traced back to a reading is what this product exists to prevent.
  ADD CONSTRAINT quote_line_names_its_findings
    CHECK (kind NOT IN ('part', 'labor', 'access') OR cardinality(finding_ids) >= 1),
  ADD CONSTRAINT quote_line_part_multiplies CHECK (kind <> 'part' OR
    (quantity IS NOT NULL AND unit_price_cents IS NOT NULL AND quantity > 0
      AND amount_cents = quantity * unit_price_cents)),
  ADD CONSTRAINT quote_line_sign CHECK (CASE
    WHEN kind IN ('discount', 'credit') THEN amount_cents <= 0
    WHEN kind = 'adjustment' THEN true
    ELSE amount_cents >= 0 END),
  ADD CONSTRAINT quote_line_aim_given
    CHECK ((kind IN ('discount', 'credit', 'adjustment')) = (aimed_at IS NOT NULL)),
  ADD CONSTRAINT quote_line_aim_within_option
    FOREIGN KEY (option_id, aimed_at) REFERENCES quote_line (option_id, key)
    DEFERRABLE INITIALLY DEFERRED;

ALTER TABLE quote_option ADD CONSTRAINT quote_option_has_lines CHECK (line_count >= 1 AND total_cents >= 0);

ALTER TABLE quote_revision
  ADD CONSTRAINT quote_revision_one_to_three_options CHECK (option_count BETWEEN 1 AND 3),
  ADD CONSTRAINT quote_revision_number_positive CHECK (number >= 1);

ALTER TABLE quote_issue
  ADD CONSTRAINT quote_issue_hash_is_of_paper
    CHECK (content_hash = encode(sha256(convert_to(paper::text, 'UTF8')), 'hex')),
  ADD CONSTRAINT quote_issue_valid_after_issue CHECK (valid_until > issued_at),
  ADD CONSTRAINT quote_issue_revision_exists
    FOREIGN KEY (quote_id, revision) REFERENCES quote_revision (quote_id, number);

ALTER TABLE quote_state ADD CONSTRAINT quote_state_revision_exists
  FOREIGN KEY (quote_id, revision) REFERENCES quote_revision (quote_id, number);

ALTER TABLE document ADD CONSTRAINT document_is_its_hash
  CHECK (sha256 = encode(sha256(bytes), 'hex'));

ALTER TABLE journal_entry
  ADD CONSTRAINT journal_entry_changes_are_json CHECK (changes IS JSON OBJECT),
  ADD CONSTRAINT journal_entry_actor_known CHECK (actor_kind IN ('staff', 'system', 'customer'));

ALTER TABLE journal_seal
  ADD CONSTRAINT journal_seal_position_positive CHECK (position >= 1),
  ADD CONSTRAINT journal_seal_entry_exists FOREIGN KEY (entry_id) REFERENCES journal_entry (id);

-- What hangs on a visit is of that visit's ticket.
ALTER TABLE observation ADD CONSTRAINT observation_of_the_visits_ticket
  FOREIGN KEY (visit_id, ticket_id) REFERENCES visit (id, ticket_id);
ALTER TABLE observation ADD CONSTRAINT observation_photo_of_the_visit
  FOREIGN KEY (visit_id, photo_sha256) REFERENCES visit_photo (visit_id, sha256);
ALTER TABLE quote ADD CONSTRAINT quote_of_the_visits_ticket
  FOREIGN KEY (visit_id, ticket_id) REFERENCES visit (id, ticket_id);

-- ---------------------------------------------------------------- never twice

-- Two live windows of one technician may touch but never overlap.
ALTER TABLE visit ADD CONSTRAINT visit_one_live_window_per_technician EXCLUDE USING gist
  (technician_id WITH =, tstzrange(window_start, window_end, '[)') WITH &&)
  WHERE (state IN ('booked', 'on_the_way', 'on_site'));

-- One revision of a quote stands at a time; once one is accepted, no other is ever issued.
CREATE UNIQUE INDEX quote_state_one_standing ON quote_state (quote_id)
  WHERE state IN ('issued', 'accepted');

-- ---------------------------------------------------------------- insert-only

CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  RAISE EXCEPTION '% of % violates constraint "%"', lower(TG_OP), TG_TABLE_NAME, TG_NAME
    USING ERRCODE = 'restrict_violation', CONSTRAINT = TG_NAME, TABLE = TG_TABLE_NAME;
END $$;

DO $$
DECLARE t text;
BEGIN
  FOREACH t IN ARRAY ARRAY[
    'reading', 'visit_photo', 'observation', 'finding', 'finding_part', 'finding_override',
    'price_book_version', 'price_book_task', 'price_book_part',
    'quote', 'quote_revision', 'quote_option', 'quote_line', 'quote_issue',
    'quote_acceptance', 'quote_decline', 'document', 'quote_paper',
    'journal_entry', 'journal_seal']
  LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I
      FOR EACH ROW EXECUTE FUNCTION refuse_change()', t || '_insert_only', t);
    EXECUTE format('CREATE TRIGGER %I BEFORE TRUNCATE ON %I
      FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()', t || '_never_emptied', t);
  END LOOP;
END $$;

-- ---------------------------------------------------------------- sums add up

-- Runs at commit, for the option and for each of its lines, so a line slipped in later is refused
-- too: it would change the count. The revision says how many options, the option how many lines.
CREATE FUNCTION check_quote_option() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  option_row quote_option%ROWTYPE;
  lines record;
BEGIN
  IF TG_TABLE_NAME = 'quote_line' THEN
    SELECT * INTO option_row FROM quote_option WHERE id = NEW.option_id;
  ELSE
    option_row := NEW;
  END IF;
  SELECT count(*) AS count, coalesce(sum(amount_cents), 0) AS total,
    coalesce(sum(amount_cents) FILTER (WHERE kind = 'tax'), 0) AS tax
    INTO lines FROM quote_line WHERE option_id = option_row.id;
  IF lines.count <> option_row.line_count THEN
    RAISE EXCEPTION 'quote option % violates constraint "quote_option_line_count": it has % lines and says %',
      option_row.id, lines.count, option_row.line_count
      USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_option_line_count';
  END IF;
  IF lines.total <> option_row.total_cents OR lines.tax <> option_row.tax_cents THEN
    RAISE EXCEPTION 'quote option % violates constraint "quote_option_adds_up": it adds up to % (tax %) and says % (tax %)',
      option_row.id, lines.total, lines.tax, option_row.total_cents, option_row.tax_cents
      USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_option_adds_up';
  END IF;
  RETURN NULL;
END $$;

CREATE CONSTRAINT TRIGGER quote_option_adds_up AFTER INSERT ON quote_option
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_quote_option();
CREATE CONSTRAINT TRIGGER quote_line_adds_up AFTER INSERT ON quote_line
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_quote_option();

CREATE FUNCTION check_quote_revision() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  revision quote_revision%ROWTYPE;
  options int;
BEGIN
  IF TG_TABLE_NAME = 'quote_option' THEN
    SELECT * INTO revision FROM quote_revision WHERE id = NEW.revision_id;
  ELSE
    revision := NEW;
  END IF;
  SELECT count(*) INTO options FROM quote_option WHERE revision_id = revision.id;
  IF options <> revision.option_count THEN
    RAISE EXCEPTION 'quote revision % violates constraint "quote_revision_option_count": it has % options and says %',
      revision.id, options, revision.option_count
      USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_revision_option_count';
  END IF;
  RETURN NULL;
END $$;

CREATE CONSTRAINT TRIGGER quote_revision_option_count AFTER INSERT ON quote_revision
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_quote_revision();
CREATE CONSTRAINT TRIGGER quote_option_counted AFTER INSERT ON quote_option
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_quote_revision();

-- ---------------------------------------------------------------- no price without evidence

-- Runs at commit, when the adjustments aimed at a line are there too: what is charged in the end
-- must be carried, or a line free of charge could be raised by hand.
CREATE FUNCTION check_quote_line_evidence() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  quoted_visit uuid;
  found record;
  charged bigint;
BEGIN
  IF cardinality(NEW.finding_ids) = 0 THEN RETURN NULL; END IF;
  SELECT q.visit_id INTO quoted_visit FROM quote_option o
    JOIN quote_revision r ON r.id = o.revision_id JOIN quote q ON q.id = r.quote_id
    WHERE o.id = NEW.option_id;
  SELECT count(*) FILTER (WHERE f.visit_id = quoted_visit) AS of_visit,
    bool_and(f.priceable OR v.finding_id IS NOT NULL) AS carried,
    bool_or(f.remedy_class IN ('reset', 'advise')) AS free_labor
    INTO found FROM finding f LEFT JOIN finding_override v ON v.finding_id = f.id
    WHERE f.id = ANY (NEW.finding_ids);
  IF found.of_visit <> cardinality(NEW.finding_ids) THEN
    RAISE EXCEPTION 'line % violates constraint "quote_line_finding_of_this_visit"', NEW.key
      USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_line_finding_of_this_visit';
  END IF;
  SELECT NEW.amount_cents + coalesce(sum(amount_cents), 0) INTO charged FROM quote_line
    WHERE option_id = NEW.option_id AND aimed_at = NEW.key AND kind = 'adjustment';
  IF charged > 0 AND NEW.kind IN ('part', 'labor', 'access') THEN
    IF NOT found.carried THEN
      RAISE EXCEPTION 'line % violates constraint "quote_line_needs_evidence"', NEW.key
        USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_line_needs_evidence';
    END IF;
    IF NEW.kind <> 'part' AND found.free_labor THEN
      RAISE EXCEPTION 'line % violates constraint "quote_line_reset_without_labor"', NEW.key
        USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_line_reset_without_labor';
    END IF;
  END IF;
  RETURN NULL;
END $$;

CREATE CONSTRAINT TRIGGER quote_line_evidence AFTER INSERT ON quote_line
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_quote_line_evidence();

-- ---------------------------------------------------------------- issue, the written yes and no

-- Each of these papers is put on record while the revision is in the one state it follows from.
-- FOR UPDATE makes a yes and a no that arrive together wait for each other; the second then finds
-- the revision no longer issued.
CREATE FUNCTION check_quote_record() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE standing quote_state_name;
BEGIN
  SELECT state INTO standing FROM quote_state
    WHERE quote_id = NEW.quote_id AND revision = NEW.revision FOR UPDATE;
  IF standing::text IS DISTINCT FROM TG_ARGV[0] THEN
    RAISE EXCEPTION 'revision % of quote % violates constraint "%": it is %, not %',
      NEW.revision, NEW.quote_id, TG_NAME, standing, TG_ARGV[0]
      USING ERRCODE = 'check_violation', CONSTRAINT = TG_NAME;
  END IF;
  RETURN NEW;
END $$;

CREATE TRIGGER quote_issue_while_draft BEFORE INSERT ON quote_issue
  FOR EACH ROW EXECUTE FUNCTION check_quote_record('draft');
CREATE TRIGGER quote_acceptance_while_issued BEFORE INSERT ON quote_acceptance
  FOR EACH ROW EXECUTE FUNCTION check_quote_record('issued');
CREATE TRIGGER quote_decline_while_issued BEFORE INSERT ON quote_decline
  FOR EACH ROW EXECUTE FUNCTION check_quote_record('issued');

-- And by commit it has made the revision what it says: a yes left without effect would let a no
-- follow, and both would be on record.
CREATE FUNCTION check_quote_record_effect() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE standing quote_state_name;
BEGIN
  SELECT state INTO standing FROM quote_state
    WHERE quote_id = NEW.quote_id AND revision = NEW.revision;
  IF (standing::text = ANY (TG_ARGV)) IS NOT TRUE THEN
    RAISE EXCEPTION 'revision % of quote % violates constraint "%": it is still %',
      NEW.revision, NEW.quote_id, TG_NAME, standing
      USING ERRCODE = 'check_violation', CONSTRAINT = TG_NAME;
  END IF;
  RETURN NULL;
END $$;

CREATE CONSTRAINT TRIGGER quote_issue_takes_effect AFTER INSERT ON quote_issue
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW
  EXECUTE FUNCTION check_quote_record_effect('issued', 'accepted', 'declined', 'withdrawn', 'superseded');
CREATE CONSTRAINT TRIGGER quote_acceptance_takes_effect AFTER INSERT ON quote_acceptance
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_quote_record_effect('accepted');
CREATE CONSTRAINT TRIGGER quote_decline_takes_effect AFTER INSERT ON quote_decline
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_quote_record_effect('declined');

-- A yes binds an option of the revision it answers, while that is valid. What is accepted beyond
-- the first quote of a visit is a change order of it, so that no fee and no work is sold twice.
CREATE FUNCTION check_quote_acceptance() RETURNS trigger LANGUAGE plpgsql
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
      WHERE q.visit_id = answered.visit_id AND q.parent_id IS NULL AND q.id <> answered.id) THEN
      RAISE EXCEPTION 'acceptance of quote % violates constraint "quote_acceptance_one_per_visit"', NEW.quote_id
        USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_acceptance_one_per_visit';
    END IF;
  END IF;
  SELECT * INTO issue FROM quote_issue WHERE quote_id = NEW.quote_id AND revision = NEW.revision;
  IF NEW.accepted_at < issue.issued_at OR NEW.accepted_at >= issue.valid_until THEN
    RAISE EXCEPTION 'acceptance of quote % violates constraint "quote_acceptance_in_time"', NEW.quote_id
      USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_acceptance_in_time';
  END IF;
  IF NOT EXISTS (SELECT 1 FROM quote_option o JOIN quote_revision r ON r.id = o.revision_id
    WHERE o.id = NEW.option_id AND r.quote_id = NEW.quote_id AND r.number = NEW.revision) THEN
    RAISE EXCEPTION 'acceptance of quote % violates constraint "quote_acceptance_option_of_revision"', NEW.quote_id
      USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_acceptance_option_of_revision';
  END IF;
  RETURN NEW;
END $$;

CREATE TRIGGER quote_acceptance_binds BEFORE INSERT ON quote_acceptance
  FOR EACH ROW EXECUTE FUNCTION check_quote_acceptance();

ALTER TABLE quote_acceptance
  ADD CONSTRAINT quote_acceptance_shown_hash FOREIGN KEY (quote_id, revision, content_hash)
    REFERENCES quote_issue (quote_id, revision, content_hash),
  ADD CONSTRAINT quote_acceptance_shown_total FOREIGN KEY (option_id, total_cents)
    REFERENCES quote_option (id, total_cents);
ALTER TABLE quote_decline ADD CONSTRAINT quote_decline_of_issued FOREIGN KEY (quote_id, revision)
  REFERENCES quote_issue (quote_id, revision);

-- A revision starts as a draft and moves only along its life; each step needs the paper that
-- made it true. src/lifecycles/quote.ts holds the same table for the program.
CREATE FUNCTION check_quote_state() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'DELETE' THEN
    RAISE EXCEPTION 'delete of quote_state violates constraint "quote_state_kept"'
      USING ERRCODE = 'restrict_violation', CONSTRAINT = 'quote_state_kept';
  END IF;
  IF TG_OP = 'INSERT' THEN
    IF NEW.state <> 'draft' THEN
      RAISE EXCEPTION 'a new revision violates constraint "quote_state_moves": it is % at once', NEW.state
        USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_state_moves';
    END IF;
    RETURN NEW;
  END IF;
  IF (NEW.quote_id, NEW.revision) IS DISTINCT FROM (OLD.quote_id, OLD.revision)
    OR NEW.version <> OLD.version + 1
    OR (OLD.state::text, NEW.state::text) NOT IN (
      ('draft', 'issued'), ('draft', 'withdrawn'), ('draft', 'superseded'),
      ('issued', 'accepted'), ('issued', 'declined'), ('issued', 'withdrawn'), ('issued', 'superseded'))
  THEN
    RAISE EXCEPTION 'a step from % to % violates constraint "quote_state_moves"', OLD.state, NEW.state
      USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_state_moves';
  END IF;
  IF (NEW.state = 'issued' AND NOT EXISTS (SELECT 1 FROM quote_issue i
      WHERE i.quote_id = NEW.quote_id AND i.revision = NEW.revision))
    OR (NEW.state = 'accepted' AND NOT EXISTS (SELECT 1 FROM quote_acceptance a
      WHERE a.quote_id = NEW.quote_id AND a.revision = NEW.revision))
    OR (NEW.state = 'declined' AND NOT EXISTS (SELECT 1 FROM quote_decline d
      WHERE d.quote_id = NEW.quote_id AND d.revision = NEW.revision))
  THEN
    RAISE EXCEPTION 'a step to % violates constraint "quote_state_needs_record"', NEW.state
      USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_state_needs_record';
  END IF;
  RETURN NEW;
END $$;

CREATE TRIGGER quote_state_moves BEFORE INSERT OR UPDATE OR DELETE ON quote_state
  FOR EACH ROW EXECUTE FUNCTION check_quote_state();
CREATE TRIGGER quote_state_never_emptied BEFORE TRUNCATE ON quote_state
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- ---------------------------------------------------------------- the journal

-- SECURITY DEFINER: whoever may write an entry need not be allowed to touch the queue. Nor may
-- anybody hang this function on a table of their own and so queue what they like: an entry queued
-- again after its seal would stop the sealer for good.
CREATE FUNCTION queue_for_seal() RETURNS trigger LANGUAGE plpgsql
  SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  INSERT INTO journal_unsealed (entry_id) VALUES (NEW.id);
  RETURN NULL;
END $$;

REVOKE EXECUTE ON FUNCTION queue_for_seal() FROM PUBLIC;

CREATE TRIGGER journal_entry_queued AFTER INSERT ON journal_entry
  FOR EACH ROW EXECUTE FUNCTION queue_for_seal();

-- A seal continues the chain without a gap.
CREATE FUNCTION check_journal_seal() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NEW.position > 1 AND NOT EXISTS (SELECT 1 FROM journal_seal WHERE position = NEW.position - 1) THEN
    RAISE EXCEPTION 'seal % violates constraint "journal_seal_without_gap"', NEW.position
      USING ERRCODE = 'check_violation', CONSTRAINT = 'journal_seal_without_gap';
  END IF;
  RETURN NEW;
END $$;

CREATE TRIGGER journal_seal_without_gap BEFORE INSERT ON journal_seal
  FOR EACH ROW EXECUTE FUNCTION check_journal_seal();
