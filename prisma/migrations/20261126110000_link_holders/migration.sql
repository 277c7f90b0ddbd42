-- A link belongs to a person, not to a name: whoever is replaced at the site answers there no more,
-- and a name that is overwritten with its person stands nowhere else.
ALTER TABLE "quote_link" ADD COLUMN "holder_id" UUID;

-- A link of before is of whoever had the place at its site when it was made: by the journal, who had
-- it before the site was changed for the first time since; or else who has it still. The name that
-- stood beside it tells nothing, for it may have been corrected since.
ALTER TABLE quote_link DISABLE TRIGGER quote_link_only_revoked;
UPDATE quote_link l SET holder_id = coalesce(
  (SELECT (j.changes::jsonb #>> ARRAY['before', l.holder || 'Id'])::uuid FROM journal_entry j
    WHERE j.subject_kind = 'site' AND j.subject_id = s.id::text AND j.event = 'site.changed'
      AND j.at > l.created_at AND j.changes::jsonb #>> ARRAY['before', l.holder || 'Id'] IS NOT NULL
    ORDER BY j.at, j.id LIMIT 1),
  CASE l.holder WHEN 'payer' THEN s.payer_id ELSE s.approver_id END)
FROM quote q JOIN ticket t ON t.id = q.ticket_id JOIN site s ON s.id = t.site_id
WHERE q.id = l.quote_id;
ALTER TABLE quote_link ENABLE TRIGGER quote_link_only_revoked;

ALTER TABLE "quote_link" ALTER COLUMN "holder_id" SET NOT NULL,
DROP COLUMN "holder_name";
CREATE INDEX "quote_link_holder_id_idx" ON "quote_link"("holder_id");
ALTER TABLE "quote_link" ADD CONSTRAINT "quote_link_holder_id_fkey" FOREIGN KEY ("holder_id") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- A new link takes the place of the old one of the same person. Whoever was replaced keeps theirs:
-- it answers nothing any more, and it is where they take back a yes they gave.
DROP INDEX quote_link_one_live;
CREATE UNIQUE INDEX quote_link_one_live ON quote_link (quote_id, holder, holder_id)
  WHERE revoked_at IS NULL;

-- As before; and whoever answers is the site's approver or payer still, as the one or the other.
-- Only a yes may be taken back by whoever gave it at a link, though somebody else answers now.
CREATE OR REPLACE FUNCTION check_answer_link() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE at timestamptz := (to_jsonb(NEW) ->> TG_ARGV[0])::timestamptz;
BEGIN
  IF NEW.link_id IS NOT NULL AND NOT EXISTS (SELECT 1 FROM quote_link l
    WHERE l.id = NEW.link_id
      AND (l.quote_id = NEW.quote_id OR (TG_TABLE_NAME = 'acceptance_cancellation'
        AND l.quote_id = (SELECT parent_id FROM quote WHERE id = NEW.quote_id)))
      AND l.revoked_at IS NULL AND at >= l.created_at
      AND (at < l.expires_at
        OR EXISTS (SELECT 1 FROM quote_issue i
          WHERE i.quote_id = l.quote_id AND at < i.valid_until + interval '336 hours')
        OR EXISTS (SELECT 1 FROM quote_acceptance a
          WHERE a.quote_id = l.quote_id AND at < a.accepted_at + interval '8760 hours'))
      AND (EXISTS (SELECT 1 FROM quote q
          JOIN ticket t ON t.id = q.ticket_id
          JOIN site s ON s.id = t.site_id
          WHERE q.id = l.quote_id
            AND l.holder_id IN (s.approver_id, s.payer_id))
        OR EXISTS (SELECT 1 FROM quote_acceptance a
          JOIN quote_link given ON given.id = a.link_id
          WHERE a.quote_id = l.quote_id AND given.holder_id = l.holder_id))) THEN
    PERFORM refuse(TG_NAME, format('answer to quote %s', NEW.quote_id));
  END IF;
  RETURN NEW;
END $$;
