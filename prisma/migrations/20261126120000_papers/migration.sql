-- Every paper that a customer holds is on record from the moment of the act it tells of; its files
-- are drawn when they are first asked for, once for each language.

SET lock_timeout = '2s';

CREATE TABLE "paper" (
    "id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "number" TEXT NOT NULL,
    "ticket_id" UUID NOT NULL,
    "revision_id" UUID,
    "acceptance_of" UUID,
    "decline_of" UUID,
    "invoice_id" UUID,
    "memo_id" UUID,
    "closing_id" UUID,
    "issued_at" TIMESTAMPTZ(6) NOT NULL,
    "time_zone" TEXT,
    "recorded_by_name" TEXT,
    CONSTRAINT "paper_pkey" PRIMARY KEY ("id")
);

CREATE TABLE "paper_file" (
    "paper_id" UUID NOT NULL,
    "language" TEXT NOT NULL,
    "renderer" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    CONSTRAINT "paper_file_pkey" PRIMARY KEY ("paper_id", "language")
);

CREATE TABLE "paper_key" (
    "kid" TEXT NOT NULL,
    "public_key" JSON NOT NULL,
    "first_used_at" TIMESTAMPTZ(6) NOT NULL,
    CONSTRAINT "paper_key_pkey" PRIMARY KEY ("kid")
);

CREATE TABLE "work_record" (
    "closing_id" UUID NOT NULL,
    "paper" JSON NOT NULL,
    "content_hash" TEXT NOT NULL,
    CONSTRAINT "work_record_pkey" PRIMARY KEY ("closing_id")
);

-- ---------------------------------------------------------------- what was issued before

-- Identifiers are in the order of time (RFC 9562, version 7), so each takes the moment of its act.
CREATE FUNCTION pg_temp.id_at(moment timestamptz) RETURNS uuid LANGUAGE sql AS $$
  SELECT overlay(replace(gen_random_uuid()::text, '-', '')
    PLACING lpad(to_hex(floor(extract(epoch FROM moment) * 1000)::bigint), 12, '0') || '7'
    FROM 1 FOR 13)::uuid
$$;

INSERT INTO paper (id, kind, number, ticket_id, revision_id, issued_at)
SELECT pg_temp.id_at(i.issued_at), 'quote', q.number::text, q.ticket_id, r.id, i.issued_at
FROM quote_issue i
JOIN quote q ON q.id = i.quote_id
JOIN quote_revision r ON r.quote_id = i.quote_id AND r.number = i.revision;

INSERT INTO paper (id, kind, number, ticket_id, acceptance_of, issued_at, time_zone, recorded_by_name)
SELECT pg_temp.id_at(a.accepted_at), 'acceptance', q.number::text, q.ticket_id, q.id, a.accepted_at,
  (SELECT time_zone FROM company), s.name
FROM quote_acceptance a JOIN quote q ON q.id = a.quote_id LEFT JOIN staff s ON s.id = a.recorded_by_id;

INSERT INTO paper (id, kind, number, ticket_id, decline_of, issued_at, time_zone, recorded_by_name)
SELECT pg_temp.id_at(d.declined_at), 'decline', q.number::text, q.ticket_id, q.id, d.declined_at,
  (SELECT time_zone FROM company), s.name
FROM quote_decline d JOIN quote q ON q.id = d.quote_id LEFT JOIN staff s ON s.id = d.recorded_by_id;

INSERT INTO paper (id, kind, number, ticket_id, invoice_id, issued_at)
SELECT pg_temp.id_at(s.issued_at), 'invoice', s.number::text, i.ticket_id, i.id, s.issued_at
FROM invoice_issue s JOIN invoice i ON i.id = s.invoice_id;

INSERT INTO paper (id, kind, number, ticket_id, memo_id, issued_at)
SELECT pg_temp.id_at(m.issued_at), 'credit_memo', m.number::text, i.ticket_id, m.id, m.issued_at
FROM credit_memo m JOIN invoice i ON i.id = m.invoice_id;

INSERT INTO paper (id, kind, number, ticket_id, closing_id, issued_at)
SELECT pg_temp.id_at(c.closed_at), 'work_record', t.number::text, t.id, c.id, c.closed_at
FROM ticket_closing c JOIN ticket t ON t.id = c.ticket_id;

-- Whoever was handed a file first keeps the one that others get from now on.
INSERT INTO paper_file (paper_id, language, renderer, sha256)
SELECT DISTINCT ON (p.id, f.language) p.id, f.language, f.renderer, f.sha256
FROM quote_paper f
JOIN paper p ON p.revision_id = f.revision_id
JOIN document d ON d.sha256 = f.sha256
ORDER BY p.id, f.language, d.created_at, f.sha256;

DROP TABLE quote_paper;

-- ---------------------------------------------------------------- indexes and references

-- After the rows, so that what they refer to is kept from being written for moments, not minutes.
CREATE UNIQUE INDEX "paper_revision_id_key" ON "paper"("revision_id");
CREATE UNIQUE INDEX "paper_acceptance_of_key" ON "paper"("acceptance_of");
CREATE UNIQUE INDEX "paper_decline_of_key" ON "paper"("decline_of");
CREATE UNIQUE INDEX "paper_invoice_id_key" ON "paper"("invoice_id");
CREATE UNIQUE INDEX "paper_memo_id_key" ON "paper"("memo_id");
CREATE UNIQUE INDEX "paper_closing_id_key" ON "paper"("closing_id");
CREATE INDEX "paper_ticket_id_idx" ON "paper"("ticket_id");
ALTER TABLE "paper" ADD CONSTRAINT "paper_ticket_id_fkey" FOREIGN KEY ("ticket_id") REFERENCES "ticket"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "paper" ADD CONSTRAINT "paper_revision_id_fkey" FOREIGN KEY ("revision_id") REFERENCES "quote_revision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "paper" ADD CONSTRAINT "paper_acceptance_of_fkey" FOREIGN KEY ("acceptance_of") REFERENCES "quote_acceptance"("quote_id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "paper" ADD CONSTRAINT "paper_decline_of_fkey" FOREIGN KEY ("decline_of") REFERENCES "quote_decline"("quote_id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "paper" ADD CONSTRAINT "paper_invoice_id_fkey" FOREIGN KEY ("invoice_id") REFERENCES "invoice_issue"("invoice_id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "paper" ADD CONSTRAINT "paper_memo_id_fkey" FOREIGN KEY ("memo_id") REFERENCES "credit_memo"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "paper" ADD CONSTRAINT "paper_closing_id_fkey" FOREIGN KEY ("closing_id") REFERENCES "ticket_closing"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX "paper_file_sha256_idx" ON "paper_file"("sha256");
ALTER TABLE "paper_file" ADD CONSTRAINT "paper_file_paper_id_fkey" FOREIGN KEY ("paper_id") REFERENCES "paper"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "paper_file" ADD CONSTRAINT "paper_file_sha256_fkey" FOREIGN KEY ("sha256") REFERENCES "document"("sha256") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "work_record" ADD CONSTRAINT "work_record_closing_id_fkey" FOREIGN KEY ("closing_id") REFERENCES "ticket_closing"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ---------------------------------------------------------------- guards

ALTER TABLE paper
  ADD CONSTRAINT paper_of_one_record CHECK (num_nonnulls(
    revision_id, acceptance_of, decline_of, invoice_id, memo_id, closing_id) = 1),
  ADD CONSTRAINT paper_kind_of_its_record CHECK (CASE kind
    WHEN 'quote' THEN revision_id
    WHEN 'acceptance' THEN acceptance_of
    WHEN 'decline' THEN decline_of
    WHEN 'invoice' THEN invoice_id
    WHEN 'credit_memo' THEN memo_id
    WHEN 'work_record' THEN closing_id END IS NOT NULL),
  ADD CONSTRAINT paper_number_given CHECK (number ~ '\S'),
  -- The paper of an answer keeps whatever of it could be called otherwise one day.
  ADD CONSTRAINT paper_of_answer_whole CHECK (CASE WHEN kind IN ('acceptance', 'decline')
    THEN time_zone IS NOT NULL
    ELSE num_nonnulls(time_zone, recorded_by_name) = 0 END);

ALTER TABLE paper_file ADD CONSTRAINT paper_file_language_known CHECK (language IN ('en', 'es'));

-- Under a borrowed name a stranger's key would vouch for papers of the company.
ALTER TABLE paper_key ADD CONSTRAINT paper_key_named_as_it_says
  CHECK (public_key ->> 'kid' IS NOT DISTINCT FROM kid);

ALTER TABLE work_record ADD CONSTRAINT work_record_hash_is_of_paper
  CHECK (content_hash = encode(sha256(convert_to(paper::text, 'UTF8')), 'hex'));

-- A paper stands with the ticket and at the moment of what it tells of: whoever may see the ticket
-- may see the paper. What was never issued has none.
CREATE FUNCTION check_paper() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NOT EXISTS (
    SELECT 1 FROM (
      SELECT q.ticket_id, i.issued_at FROM quote_revision r
        JOIN quote_issue i ON i.quote_id = r.quote_id AND i.revision = r.number
        JOIN quote q ON q.id = r.quote_id WHERE r.id = NEW.revision_id
      UNION ALL SELECT q.ticket_id, a.accepted_at FROM quote_acceptance a
        JOIN quote q ON q.id = a.quote_id WHERE a.quote_id = NEW.acceptance_of
      UNION ALL SELECT q.ticket_id, d.declined_at FROM quote_decline d
        JOIN quote q ON q.id = d.quote_id WHERE d.quote_id = NEW.decline_of
      UNION ALL SELECT i.ticket_id, s.issued_at FROM invoice_issue s
        JOIN invoice i ON i.id = s.invoice_id WHERE s.invoice_id = NEW.invoice_id
      UNION ALL SELECT i.ticket_id, m.issued_at FROM credit_memo m
        JOIN invoice i ON i.id = m.invoice_id WHERE m.id = NEW.memo_id
      UNION ALL SELECT c.ticket_id, c.closed_at FROM ticket_closing c WHERE c.id = NEW.closing_id
    ) AS told (ticket_id, at)
    WHERE told.ticket_id = NEW.ticket_id AND told.at = NEW.issued_at) THEN
    PERFORM refuse(TG_NAME, format('paper %s of %s', NEW.id, NEW.kind));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER paper_stands_with_its_record BEFORE INSERT ON paper
  FOR EACH ROW EXECUTE FUNCTION check_paper();

DO $$
DECLARE t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['paper', 'paper_file', 'paper_key', 'work_record'] LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I
      FOR EACH ROW EXECUTE FUNCTION refuse_change()', t || '_insert_only', t);
    EXECUTE format('CREATE TRIGGER %I BEFORE TRUNCATE ON %I
      FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()', t || '_never_emptied', t);
  END LOOP;
END $$;

GRANT SELECT ON paper, paper_file, paper_key, work_record TO evenhand_app, evenhand_read;
GRANT INSERT ON paper, paper_file, paper_key, work_record TO evenhand_app;
