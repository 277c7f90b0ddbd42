-- Who may do what in the database. The role that runs migrations owns the schema.
--   evenhand_app   the API: reads, inserts, and updates only the rows that live
--   evenhand_read  reports: reads what is not a secret
-- Both are group roles without a password; docker-compose.yml and the README show how a login joins.

SET lock_timeout = '2s';

DO $$
DECLARE r text;
BEGIN
  FOREACH r IN ARRAY ARRAY['evenhand_app', 'evenhand_read'] LOOP
    BEGIN
      EXECUTE format('CREATE ROLE %I NOLOGIN', r);
    EXCEPTION WHEN duplicate_object OR unique_violation THEN
      NULL; -- Roles belong to the whole server; another database made it first.
    END;
    -- The owner may act as either, so that one login is enough to begin with.
    IF NOT pg_has_role(current_user, r, 'SET') THEN
      EXECUTE format('GRANT %I TO CURRENT_USER', r);
    END IF;
  END LOOP;
END $$;

GRANT USAGE ON SCHEMA public TO evenhand_app, evenhand_read;
GRANT SELECT ON ALL TABLES IN SCHEMA public TO evenhand_app, evenhand_read;
REVOKE ALL ON staff_token, idempotency_key FROM evenhand_read;
-- Reports see people but not the salts that keep the journal's hashes from being guessed.
REVOKE ALL ON customer FROM evenhand_read;
GRANT SELECT (id, name, phone, email, language, phone_digits, name_search, version, created_at)
  ON customer TO evenhand_read;

GRANT INSERT ON
  staff, staff_token, customer, site, comfort_system, equipment, ticket, visit,
  reading, visit_photo, observation, finding, finding_part, finding_override,
  price_book_version, price_book_task, price_book_part, tax_rule,
  quote, quote_state, quote_revision, quote_option, quote_line, quote_issue,
  quote_acceptance, quote_decline, document, quote_paper,
  journal_entry, journal_seal, idempotency_key, company
  TO evenhand_app;

GRANT UPDATE ON company, staff, customer, site, comfort_system, equipment TO evenhand_app;
-- Of these only what moves: a fee agreed to, a complaint, a tax rate stay as they were written.
GRANT UPDATE (state, version, arrived_at, end_note) ON visit TO evenhand_app;
GRANT UPDATE (state, version, closing_note) ON ticket TO evenhand_app;
GRANT UPDATE (state, version, changed_at) ON quote_state TO evenhand_app;
GRANT UPDATE (effective_to) ON tax_rule TO evenhand_app;
GRANT UPDATE (revoked_at) ON staff_token TO evenhand_app;

-- The queue empties as entries are sealed; answers to repeated requests expire.
GRANT DELETE ON journal_unsealed, idempotency_key TO evenhand_app;

GRANT USAGE ON SEQUENCE ticket_number_seq, quote_number_seq TO evenhand_app;
