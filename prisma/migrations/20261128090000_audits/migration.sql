-- The owner's audit: what was judged of each ticket that is over, what was flagged, and how the owner
-- answered; and bills of other times or companies, which are judged by the same rules.

SET lock_timeout = '2s';

-- ---------------------------------------------------------------- time on site

-- When whoever was there left. Not known of visits from before it was kept.
ALTER TABLE "visit" ADD COLUMN "left_at" TIMESTAMPTZ(6);
ALTER TABLE visit
  ADD CONSTRAINT visit_left_after_arriving CHECK
    (left_at IS NULL OR (left_at >= arrived_at) IS TRUE),
  ADD CONSTRAINT visit_left_at_its_end CHECK
    (left_at IS NULL OR state IN ('finished', 'no_access'));
GRANT UPDATE (left_at) ON visit TO evenhand_app;

-- ---------------------------------------------------------------- tables

CREATE TABLE "audit_place" (
    "id" INTEGER NOT NULL DEFAULT 1,
    "position" BIGINT NOT NULL,
    CONSTRAINT "audit_place_pkey" PRIMARY KEY ("id")
);
CREATE TABLE "audit_judgement" (
    "ticket_id" UUID NOT NULL,
    "ruleset_version" TEXT NOT NULL,
    "facts_hash" TEXT NOT NULL,
    "ended_at" TIMESTAMPTZ(6) NOT NULL,
    "judged_at" TIMESTAMPTZ(6) NOT NULL,
    "over_cents" INTEGER NOT NULL,
    "flag_count" INTEGER NOT NULL,
    "cannot_judge" JSON NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    CONSTRAINT "audit_judgement_pkey" PRIMARY KEY ("ticket_id")
);
CREATE TABLE "audit_flag" (
    "id" UUID NOT NULL,
    "ticket_id" UUID NOT NULL,
    "rule_code" TEXT NOT NULL,
    "fingerprint" TEXT NOT NULL,
    "severity" TEXT NOT NULL,
    "sentences" JSON NOT NULL,
    "corrections" JSON NOT NULL,
    "over_cents" INTEGER NOT NULL,
    "ruleset_version" TEXT NOT NULL,
    "raised_at" TIMESTAMPTZ(6) NOT NULL,
    CONSTRAINT "audit_flag_pkey" PRIMARY KEY ("id")
);
CREATE TABLE "audit_flag_state" (
    "flag_id" UUID NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'open',
    "version" INTEGER NOT NULL DEFAULT 1,
    "changed_at" TIMESTAMPTZ(6) NOT NULL,
    CONSTRAINT "audit_flag_state_pkey" PRIMARY KEY ("flag_id")
);
CREATE TABLE "audit_answer" (
    "flag_id" UUID NOT NULL,
    "answer" TEXT NOT NULL,
    "reason" TEXT,
    "letter_language" TEXT,
    "letter" TEXT,
    "answered_at" TIMESTAMPTZ(6) NOT NULL,
    "answered_by_id" UUID NOT NULL,
    CONSTRAINT "audit_answer_pkey" PRIMARY KEY ("flag_id")
);
CREATE TABLE "audit_answer_memo" (
    "memo_id" UUID NOT NULL,
    "flag_id" UUID NOT NULL,
    CONSTRAINT "audit_answer_memo_pkey" PRIMARY KEY ("memo_id")
);
CREATE TABLE "audit_run" (
    "id" UUID NOT NULL,
    "ruleset_version" TEXT NOT NULL,
    "cause" TEXT NOT NULL,
    "cursor" UUID,
    "done" INTEGER NOT NULL DEFAULT 0,
    "total" INTEGER NOT NULL,
    "started_at" TIMESTAMPTZ(6) NOT NULL,
    "started_by_id" UUID,
    "finished_at" TIMESTAMPTZ(6),
    CONSTRAINT "audit_run_pkey" PRIMARY KEY ("id")
);
CREATE TABLE "bill_import" (
    "id" UUID NOT NULL,
    "file_name" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "origin" TEXT NOT NULL,
    "row_count" INTEGER NOT NULL,
    "imported_at" TIMESTAMPTZ(6) NOT NULL,
    "imported_by_id" UUID NOT NULL,
    CONSTRAINT "bill_import_pkey" PRIMARY KEY ("id")
);
CREATE TABLE "imported_bill" (
    "id" UUID NOT NULL,
    "import_id" UUID NOT NULL,
    "row" INTEGER NOT NULL,
    "billed_on" DATE NOT NULL,
    "content" JSON NOT NULL,
    "charged_cents" INTEGER NOT NULL,
    "judgement" JSON NOT NULL,
    "flag_count" INTEGER NOT NULL,
    "over_cents" INTEGER NOT NULL,
    "ruleset_version" TEXT NOT NULL,
    "price_book_version_id" UUID NOT NULL,
    CONSTRAINT "imported_bill_pkey" PRIMARY KEY ("id")
);

CREATE INDEX "audit_judgement_ended_at_idx" ON "audit_judgement"("ended_at");
CREATE UNIQUE INDEX "audit_flag_said_once" ON "audit_flag"("ticket_id", "rule_code", "fingerprint");
CREATE INDEX "audit_flag_rule_code_id_idx" ON "audit_flag"("rule_code", "id");
CREATE INDEX "audit_flag_state_state_flag_id_idx" ON "audit_flag_state"("state", "flag_id");
CREATE INDEX "audit_answer_answered_by_id_idx" ON "audit_answer"("answered_by_id");
CREATE INDEX "audit_answer_memo_flag_id_idx" ON "audit_answer_memo"("flag_id");
CREATE INDEX "audit_run_started_at_idx" ON "audit_run"("started_at");
CREATE INDEX "audit_run_started_by_id_idx" ON "audit_run"("started_by_id");
CREATE UNIQUE INDEX audit_run_one_at_a_time ON audit_run ((true)) WHERE finished_at IS NULL;
CREATE UNIQUE INDEX "bill_import_sha256_key" ON "bill_import"("sha256");
CREATE INDEX "bill_import_imported_by_id_idx" ON "bill_import"("imported_by_id");
CREATE UNIQUE INDEX "imported_bill_row_key" ON "imported_bill"("import_id", "row");
CREATE INDEX "imported_bill_price_book_version_id_idx" ON "imported_bill"("price_book_version_id");

ALTER TABLE "audit_judgement" ADD CONSTRAINT "audit_judgement_ticket_id_fkey" FOREIGN KEY ("ticket_id") REFERENCES "ticket"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "audit_flag" ADD CONSTRAINT "audit_flag_ticket_id_fkey" FOREIGN KEY ("ticket_id") REFERENCES "ticket"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "audit_flag_state" ADD CONSTRAINT "audit_flag_state_flag_id_fkey" FOREIGN KEY ("flag_id") REFERENCES "audit_flag"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "audit_answer" ADD CONSTRAINT "audit_answer_flag_id_fkey" FOREIGN KEY ("flag_id") REFERENCES "audit_flag"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "audit_answer_memo" ADD CONSTRAINT "audit_answer_memo_flag_id_fkey" FOREIGN KEY ("flag_id") REFERENCES "audit_answer"("flag_id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "audit_answer_memo" ADD CONSTRAINT "audit_answer_memo_memo_id_fkey" FOREIGN KEY ("memo_id") REFERENCES "credit_memo"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "imported_bill" ADD CONSTRAINT "imported_bill_import_id_fkey" FOREIGN KEY ("import_id") REFERENCES "bill_import"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "imported_bill" ADD CONSTRAINT "imported_bill_price_book_version_id_fkey" FOREIGN KEY ("price_book_version_id") REFERENCES "price_book_version"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE audit_answer ADD CONSTRAINT audit_answer_answered_by_fkey FOREIGN KEY (answered_by_id) REFERENCES staff (id);
ALTER TABLE audit_run ADD CONSTRAINT audit_run_started_by_fkey FOREIGN KEY (started_by_id) REFERENCES staff (id);
ALTER TABLE bill_import ADD CONSTRAINT bill_import_imported_by_fkey FOREIGN KEY (imported_by_id) REFERENCES staff (id);

-- What was sealed before is judged by the first run over all tickets; reading goes on from here.
INSERT INTO audit_place (position) SELECT coalesce(max(position), 0) FROM journal_seal;

-- ---------------------------------------------------------------- guards

ALTER TABLE audit_place ADD CONSTRAINT audit_place_single_row CHECK (id = 1);
ALTER TABLE audit_judgement ADD CONSTRAINT audit_judgement_sane CHECK
  (facts_hash ~ '^[0-9a-f]{64}$' AND over_cents >= 0 AND flag_count >= 0);
ALTER TABLE audit_flag
  ADD CONSTRAINT audit_flag_severity_known CHECK (severity IN ('owed', 'look', 'record')),
  ADD CONSTRAINT audit_flag_says_something CHECK
    (fingerprint ~ '^[0-9a-f]{64}$' AND json_array_length(sentences) > 0),
  -- Money is said to be owed only with the charges that it is too much of.
  ADD CONSTRAINT audit_flag_owes_by_its_corrections CHECK
    (over_cents = 0 OR (over_cents > 0 AND json_array_length(corrections) > 0));
ALTER TABLE audit_flag_state ADD CONSTRAINT audit_flag_state_known CHECK
  (state IN ('open', 'accepted', 'dismissed', 'gone'));
ALTER TABLE audit_answer
  ADD CONSTRAINT audit_answer_known CHECK (answer IN ('accepted', 'dismissed')),
  ADD CONSTRAINT audit_answer_dismissed_with_a_reason CHECK
    ((reason ~ '\S') IS NOT FALSE AND (answer = 'accepted' OR reason IS NOT NULL)),
  ADD CONSTRAINT audit_answer_letter_whole CHECK (num_nonnulls(letter_language, letter) IN (0, 2)
    AND letter_language IN ('en', 'es') AND letter ~ '\S');
ALTER TABLE audit_run
  ADD CONSTRAINT audit_run_cause_known CHECK (cause IN ('ruleset', 'asked')),
  ADD CONSTRAINT audit_run_asked_by_somebody CHECK ((cause = 'asked') = (started_by_id IS NOT NULL)),
  ADD CONSTRAINT audit_run_counted CHECK (total >= 0 AND done >= 0 AND finished_at >= started_at);
ALTER TABLE bill_import
  ADD CONSTRAINT bill_import_origin_known CHECK (origin IN ('own', 'other_company')),
  ADD CONSTRAINT bill_import_of_a_file CHECK
    (sha256 ~ '^[0-9a-f]{64}$' AND file_name ~ '\S' AND row_count > 0);
ALTER TABLE imported_bill ADD CONSTRAINT imported_bill_sane CHECK
  ("row" > 0 AND flag_count >= 0 AND over_cents >= 0);

-- What was read of the journal is not read again.
CREATE FUNCTION check_audit_place() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NEW.position < OLD.position THEN PERFORM refuse(TG_NAME, 'place of the audit'); END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER audit_place_goes_on BEFORE UPDATE ON audit_place
  FOR EACH ROW EXECUTE FUNCTION check_audit_place();

-- A flag comes and goes with what is known of the job until it is answered, once and for good.
CREATE FUNCTION check_audit_flag_move() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'DELETE' OR NEW.flag_id <> OLD.flag_id OR NEW.version <> OLD.version + 1
    OR (OLD.state, NEW.state) NOT IN (('open', 'accepted'), ('open', 'dismissed'), ('open', 'gone'),
      ('gone', 'open')) THEN
    PERFORM refuse(TG_NAME, format('flag %s, %s,', OLD.flag_id, OLD.state));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER audit_flag_state_moves_on BEFORE UPDATE OR DELETE ON audit_flag_state
  FOR EACH ROW EXECUTE FUNCTION check_audit_flag_move();

-- Looked at by commit, from both sides: a flag is in the state of its answer, and without one it is
-- open or gone.
CREATE FUNCTION check_audit_flag_answered() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE standing text; given text;
BEGIN
  SELECT state INTO standing FROM audit_flag_state WHERE flag_id = NEW.flag_id;
  SELECT answer INTO given FROM audit_answer WHERE flag_id = NEW.flag_id;
  IF standing IS DISTINCT FROM given AND (given IS NULL AND standing IN ('open', 'gone')) IS NOT TRUE THEN
    PERFORM refuse('audit_flag_answered', format('flag %s', NEW.flag_id));
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER audit_flag_answered AFTER INSERT OR UPDATE ON audit_flag_state
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_audit_flag_answered();
CREATE CONSTRAINT TRIGGER audit_answer_in_its_state AFTER INSERT ON audit_answer
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_audit_flag_answered();

-- Looked at by commit, from both sides: whoever accepts that money was charged too much gives back
-- exactly what the flag says, with the letter that tells so, by memos of the ticket's invoices that
-- were issued with the answer; any other answer gives nothing back.
CREATE FUNCTION check_audit_answer_memos() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE given audit_answer; flag audit_flag; back record;
BEGIN
  SELECT * INTO given FROM audit_answer WHERE flag_id = NEW.flag_id;
  SELECT * INTO flag FROM audit_flag WHERE id = NEW.flag_id;
  SELECT coalesce(sum(m.total_cents), 0) AS cents,
      coalesce(bool_and(i.ticket_id = flag.ticket_id AND m.issued_at = given.answered_at), true) AS own
    INTO back
    FROM audit_answer_memo a
    JOIN credit_memo m ON m.id = a.memo_id
    JOIN invoice i ON i.id = m.invoice_id
    WHERE a.flag_id = NEW.flag_id;
  IF NOT back.own
    OR back.cents <> (CASE given.answer WHEN 'accepted' THEN flag.over_cents ELSE 0 END)
    OR (given.letter IS NOT NULL) <> (back.cents > 0) THEN
    PERFORM refuse('audit_answer_gives_back', format('answer of flag %s', NEW.flag_id));
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER audit_answer_gives_back AFTER INSERT ON audit_answer
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_audit_answer_memos();
CREATE CONSTRAINT TRIGGER audit_answer_memo_of_the_answer AFTER INSERT ON audit_answer_memo
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_audit_answer_memos();

-- A run goes forward and ends once; what it was started for stays.
CREATE FUNCTION check_audit_run() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'DELETE' OR OLD.finished_at IS NOT NULL OR NEW.done < OLD.done
    OR (NEW.cursor >= OLD.cursor) IS FALSE OR NEW.cursor IS NULL AND OLD.cursor IS NOT NULL
    OR to_jsonb(NEW) - '{cursor,done,finished_at}'::text[]
      <> to_jsonb(OLD) - '{cursor,done,finished_at}'::text[] THEN
    PERFORM refuse(TG_NAME, format('%s of run %s', lower(TG_OP), OLD.id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER audit_run_goes_forward BEFORE UPDATE OR DELETE ON audit_run
  FOR EACH ROW EXECUTE FUNCTION check_audit_run();

-- What was read from a bill stays; only its judgement is made anew.
CREATE FUNCTION check_imported_bill() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'DELETE'
    OR to_jsonb(NEW) - '{judgement,flag_count,over_cents,ruleset_version,price_book_version_id}'::text[]
      <> to_jsonb(OLD) - '{judgement,flag_count,over_cents,ruleset_version,price_book_version_id}'::text[] THEN
    PERFORM refuse(TG_NAME, format('%s of imported bill %s', lower(TG_OP), OLD.id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER imported_bill_only_judged_anew BEFORE UPDATE OR DELETE ON imported_bill
  FOR EACH ROW EXECUTE FUNCTION check_imported_bill();

DO $$
DECLARE t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['audit_flag', 'audit_answer', 'audit_answer_memo', 'bill_import']
  LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I
      FOR EACH ROW EXECUTE FUNCTION refuse_change()', t || '_insert_only', t);
  END LOOP;
  FOREACH t IN ARRAY ARRAY['audit_flag', 'audit_answer', 'audit_answer_memo', 'bill_import',
    'audit_flag_state', 'audit_run', 'imported_bill']
  LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE TRUNCATE ON %I
      FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()', t || '_never_emptied', t);
  END LOOP;
END $$;

-- ---------------------------------------------------------------- who may

GRANT SELECT ON audit_place, audit_judgement, audit_flag, audit_flag_state, audit_answer,
  audit_answer_memo, audit_run, bill_import, imported_bill TO evenhand_app, evenhand_read;
GRANT INSERT ON audit_judgement, audit_flag, audit_flag_state, audit_answer, audit_answer_memo,
  audit_run, bill_import, imported_bill TO evenhand_app;
GRANT UPDATE (position) ON audit_place TO evenhand_app;
GRANT UPDATE (ruleset_version, facts_hash, ended_at, judged_at, over_cents, flag_count, cannot_judge,
  version) ON audit_judgement TO evenhand_app;
GRANT UPDATE (state, version, changed_at) ON audit_flag_state TO evenhand_app;
GRANT UPDATE (cursor, done, finished_at) ON audit_run TO evenhand_app;
GRANT UPDATE (judgement, flag_count, over_cents, ruleset_version, price_book_version_id)
  ON imported_bill TO evenhand_app;
