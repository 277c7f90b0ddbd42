-- What must never happen, refused by the database itself whatever the program does:
-- double booking, a change to what was recorded or issued, sums that do not add up,
-- a second yes, a price without evidence, a touched journal.

SET lock_timeout = '2s';

-- ---------------------------------------------------------------- who did it

ALTER TABLE ticket ADD CONSTRAINT ticket_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff (id);
ALTER TABLE reading ADD CONSTRAINT reading_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);
ALTER TABLE observation ADD CONSTRAINT observation_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff (id);
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
  ADD CONSTRAINT visit_fee_not_negative CHECK (fee_cents >= 0);

ALTER TABLE reading
  ADD CONSTRAINT reading_source_known CHECK (source IN ('measured', 'reported')),
  ADD CONSTRAINT reading_phase_known CHECK (phase IN ('found', 'left')),
  ADD CONSTRAINT reading_value_finite CHECK (value > '-Infinity'::float8 AND value < 'Infinity'::float8);

ALTER TABLE observation
  ADD CONSTRAINT observation_answer_known CHECK (answer IN ('yes', 'no', 'unknown')),
  ADD CONSTRAINT observation_source_known CHECK (source IN ('observed', 'reported')),
  ADD CONSTRAINT observation_phase_known CHECK (phase IN ('found', 'left')),
  ADD CONSTRAINT observation_photo_is_sha256 CHECK (photo_sha256 ~ '^[0-9a-f]{64}$');

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
    (quantity IS NOT NULL AND unit_price_cents IS NOT NULL AND amount_cents = quantity * unit_price_cents)),
  ADD CONSTRAINT quote_line_sign CHECK (CASE
    WHEN kind IN ('discount', 'credit') THEN amount_cents <= 0
    WHEN kind = 'adjustment' THEN true
    ELSE amount_cents >= 0 END),
  ADD CONSTRAINT quote_line_aim_within_option
    FOREIGN KEY (option_id, aimed_at) REFERENCES quote_line (option_id, key)
    DEFERRABLE INITIALLY DEFERRED;

ALTER TABLE quote_option ADD CONSTRAINT quote_option_has_lines CHECK (line_count >= 1 AND total_cents >= 0);

ALTER TABLE quote_revision
  ADD CONSTRAINT quote_revision_one_to_three_options CHECK (option_count BETWEEN 1 AND 3),
  ADD CONSTRAINT quote_revision_number_positive CHECK (number >= 1);

ALTER TABLE quote_issue
  ADD CONSTRAINT quote_issue_hash_is_sha256 CHECK (content_hash ~ '^[0-9a-f]{64}$'),
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

-- ---------------------------------------------------------------- never twice

-- Two live windows of one technician may touch but never overlap.
ALTER TABLE visit ADD CONSTRAINT visit_one_live_window_per_technician EXCLUDE USING gist
  (technician_id WITH =, tstzrange(window_start, window_end, '[)') WITH &&)
  WHERE (state IN ('booked', 'on_the_way', 'on_site'));

-- One revision of a quote stands at a time, and one is accepted ever.
CREATE UNIQUE INDEX quote_state_one_issued ON quote_state (quote_id) WHERE state = 'issued';
CREATE UNIQUE INDEX quote_state_one_accepted ON quote_state (quote_id) WHERE state = 'accepted';

-- ---------------------------------------------------------------- insert-only

CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '% is insert-only', TG_TABLE_NAME
    USING ERRCODE = 'restrict_violation', CONSTRAINT = TG_TABLE_NAME || '_insert_only', TABLE = TG_TABLE_NAME;
END $$;

DO $$
DECLARE t text;
BEGIN
  FOREACH t IN ARRAY ARRAY[
    'reading', 'observation', 'finding', 'finding_part', 'finding_override',
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
CREATE FUNCTION check_quote_option() RETURNS trigger LANGUAGE plpgsql AS $$
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
    RAISE EXCEPTION 'quote option % has % lines and says %', option_row.id, lines.count, option_row.line_count
      USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_option_line_count';
  END IF;
  IF lines.total <> option_row.total_cents OR lines.tax <> option_row.tax_cents THEN
    RAISE EXCEPTION 'quote option % adds up to % and says %', option_row.id, lines.total, option_row.total_cents
      USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_option_adds_up';
  END IF;
  RETURN NULL;
END $$;

CREATE CONSTRAINT TRIGGER quote_option_adds_up AFTER INSERT ON quote_option
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_quote_option();
CREATE CONSTRAINT TRIGGER quote_line_adds_up AFTER INSERT ON quote_line
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_quote_option();

CREATE FUNCTION check_quote_revision() RETURNS trigger LANGUAGE plpgsql AS $$
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
    RAISE EXCEPTION 'quote revision % has % options and says %', revision.id, options, revision.option_count
      USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_revision_option_count';
  END IF;
  RETURN NULL;
END $$;

CREATE CONSTRAINT TRIGGER quote_revision_option_count AFTER INSERT ON quote_revision
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_quote_revision();
CREATE CONSTRAINT TRIGGER quote_option_counted AFTER INSERT ON quote_option
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_quote_revision();

-- ---------------------------------------------------------------- no price without evidence

CREATE FUNCTION check_quote_line_evidence() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  quoted_visit uuid;
  found record;
BEGIN
  IF cardinality(NEW.finding_ids) = 0 THEN RETURN NEW; END IF;
  SELECT q.visit_id INTO quoted_visit FROM quote_option o
    JOIN quote_revision r ON r.id = o.revision_id JOIN quote q ON q.id = r.quote_id
    WHERE o.id = NEW.option_id;
  SELECT count(*) FILTER (WHERE f.visit_id = quoted_visit) AS of_visit,
    bool_and(f.priceable OR v.finding_id IS NOT NULL) AS carried,
    bool_or(f.remedy_class IN ('reset', 'advise')) AS free_labor
    INTO found FROM finding f LEFT JOIN finding_override v ON v.finding_id = f.id
    WHERE f.id = ANY (NEW.finding_ids);
  IF found.of_visit <> cardinality(NEW.finding_ids) THEN
    RAISE EXCEPTION 'line % names a finding that is not of this visit', NEW.key
      USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_line_finding_of_this_visit';
  END IF;
  IF NEW.amount_cents > 0 AND NEW.kind IN ('part', 'labor', 'access') THEN
    IF NOT found.carried THEN
      RAISE EXCEPTION 'the evidence does not carry line %', NEW.key
        USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_line_needs_evidence';
    END IF;
    IF NEW.kind <> 'part' AND found.free_labor THEN
      RAISE EXCEPTION 'no labor or access is charged for a reset or advice: line %', NEW.key
        USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_line_reset_without_labor';
    END IF;
  END IF;
  RETURN NEW;
END $$;

CREATE TRIGGER quote_line_evidence BEFORE INSERT ON quote_line
  FOR EACH ROW EXECUTE FUNCTION check_quote_line_evidence();

-- ---------------------------------------------------------------- the written yes and no

-- The answer is recorded while the revision stands. FOR UPDATE makes a yes and a no that arrive
-- together wait for each other; the second then finds the revision no longer issued.
CREATE FUNCTION check_quote_answer() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  standing quote_state_name;
  until timestamptz;
BEGIN
  SELECT state INTO standing FROM quote_state
    WHERE quote_id = NEW.quote_id AND revision = NEW.revision FOR UPDATE;
  IF standing IS DISTINCT FROM 'issued' THEN
    RAISE EXCEPTION 'revision % of quote % is not issued', NEW.revision, NEW.quote_id
      USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_answer_needs_issued';
  END IF;
  IF TG_TABLE_NAME = 'quote_acceptance' THEN
    SELECT valid_until INTO until FROM quote_issue
      WHERE quote_id = NEW.quote_id AND revision = NEW.revision;
    IF NEW.accepted_at >= until THEN
      RAISE EXCEPTION 'quote % expired at %', NEW.quote_id, until
        USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_acceptance_in_time';
    END IF;
    IF NOT EXISTS (SELECT 1 FROM quote_option o JOIN quote_revision r ON r.id = o.revision_id
      WHERE o.id = NEW.option_id AND r.quote_id = NEW.quote_id AND r.number = NEW.revision) THEN
      RAISE EXCEPTION 'option % is not of revision %', NEW.option_id, NEW.revision
        USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_acceptance_option_of_revision';
    END IF;
  END IF;
  RETURN NEW;
END $$;

CREATE TRIGGER quote_acceptance_while_issued BEFORE INSERT ON quote_acceptance
  FOR EACH ROW EXECUTE FUNCTION check_quote_answer();
CREATE TRIGGER quote_decline_while_issued BEFORE INSERT ON quote_decline
  FOR EACH ROW EXECUTE FUNCTION check_quote_answer();

ALTER TABLE quote_acceptance
  ADD CONSTRAINT quote_acceptance_shown_hash FOREIGN KEY (quote_id, revision, content_hash)
    REFERENCES quote_issue (quote_id, revision, content_hash),
  ADD CONSTRAINT quote_acceptance_shown_total FOREIGN KEY (option_id, total_cents)
    REFERENCES quote_option (id, total_cents);
ALTER TABLE quote_decline ADD CONSTRAINT quote_decline_of_issued FOREIGN KEY (quote_id, revision)
  REFERENCES quote_issue (quote_id, revision);

-- A revision starts as a draft and moves only along its life; each step needs the paper that
-- made it true. src/lifecycles/quote.ts holds the same table for the program.
CREATE FUNCTION check_quote_state() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' THEN
    RAISE EXCEPTION 'quote_state is never deleted'
      USING ERRCODE = 'restrict_violation', CONSTRAINT = 'quote_state_kept';
  END IF;
  IF TG_OP = 'INSERT' THEN
    IF NEW.state <> 'draft' THEN
      RAISE EXCEPTION 'a revision starts as a draft'
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
    RAISE EXCEPTION 'a quote does not move from % to %', OLD.state, NEW.state
      USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_state_moves';
  END IF;
  IF (NEW.state = 'issued' AND NOT EXISTS (SELECT 1 FROM quote_issue i
      WHERE i.quote_id = NEW.quote_id AND i.revision = NEW.revision))
    OR (NEW.state = 'accepted' AND NOT EXISTS (SELECT 1 FROM quote_acceptance a
      WHERE a.quote_id = NEW.quote_id AND a.revision = NEW.revision))
    OR (NEW.state = 'declined' AND NOT EXISTS (SELECT 1 FROM quote_decline d
      WHERE d.quote_id = NEW.quote_id AND d.revision = NEW.revision))
  THEN
    RAISE EXCEPTION 'nothing on record makes this revision %', NEW.state
      USING ERRCODE = 'check_violation', CONSTRAINT = 'quote_state_needs_record';
  END IF;
  RETURN NEW;
END $$;

CREATE TRIGGER quote_state_moves BEFORE INSERT OR UPDATE OR DELETE ON quote_state
  FOR EACH ROW EXECUTE FUNCTION check_quote_state();
CREATE TRIGGER quote_state_never_emptied BEFORE TRUNCATE ON quote_state
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- ---------------------------------------------------------------- the journal

-- SECURITY DEFINER: whoever may write an entry need not be allowed to touch the queue.
CREATE FUNCTION queue_for_seal() RETURNS trigger LANGUAGE plpgsql
  SECURITY DEFINER SET search_path = pg_catalog, public AS $$
BEGIN
  INSERT INTO public.journal_unsealed (entry_id) VALUES (NEW.id);
  RETURN NULL;
END $$;

CREATE TRIGGER journal_entry_queued AFTER INSERT ON journal_entry
  FOR EACH ROW EXECUTE FUNCTION queue_for_seal();

-- A seal continues the chain without a gap.
CREATE FUNCTION check_journal_seal() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW.position > 1 AND NOT EXISTS (SELECT 1 FROM journal_seal WHERE position = NEW.position - 1) THEN
    RAISE EXCEPTION 'seal % does not continue the chain', NEW.position
      USING ERRCODE = 'check_violation', CONSTRAINT = 'journal_seal_without_gap';
  END IF;
  RETURN NEW;
END $$;

CREATE TRIGGER journal_seal_without_gap BEFORE INSERT ON journal_seal
  FOR EACH ROW EXECUTE FUNCTION check_journal_seal();
