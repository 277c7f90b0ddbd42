-- How people sign in: passwords, sessions, links by which a password is set, and the pace of trying.

SET lock_timeout = '2s';

-- ---------------------------------------------------------------- tables

CREATE TABLE "staff_password" (
    "staff_id" UUID NOT NULL,
    "hash" TEXT NOT NULL,
    "changed_at" TIMESTAMPTZ(6) NOT NULL,
    CONSTRAINT "staff_password_pkey" PRIMARY KEY ("staff_id")
);
CREATE TABLE "staff_session" (
    "id" UUID NOT NULL,
    "staff_id" UUID NOT NULL,
    "token_hash" BYTEA NOT NULL,
    "carrier" TEXT NOT NULL,
    "started_at" TIMESTAMPTZ(6) NOT NULL,
    "expires_at" TIMESTAMPTZ(6) NOT NULL,
    "idle_seconds" INTEGER NOT NULL,
    "idle_until" TIMESTAMPTZ(6) NOT NULL,
    "ended_at" TIMESTAMPTZ(6),
    CONSTRAINT "staff_session_pkey" PRIMARY KEY ("id")
);
CREATE TABLE "sign_in_link" (
    "id" UUID NOT NULL,
    "staff_id" UUID,
    "purpose" TEXT NOT NULL,
    "token_hash" BYTEA NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL,
    "created_by_id" UUID,
    "expires_at" TIMESTAMPTZ(6) NOT NULL,
    "used_at" TIMESTAMPTZ(6),
    "revoked_at" TIMESTAMPTZ(6),
    CONSTRAINT "sign_in_link_pkey" PRIMARY KEY ("id")
);
CREATE TABLE "sign_in_pace" (
    "key_hash" BYTEA NOT NULL,
    "full_at" TIMESTAMPTZ(6) NOT NULL,
    CONSTRAINT "sign_in_pace_pkey" PRIMARY KEY ("key_hash")
);

CREATE UNIQUE INDEX "staff_session_token_hash_key" ON "staff_session"("token_hash");
CREATE INDEX "staff_session_staff_id_idx" ON "staff_session"("staff_id");
CREATE UNIQUE INDEX "sign_in_link_token_hash_key" ON "sign_in_link"("token_hash");
CREATE INDEX "sign_in_link_staff_id_idx" ON "sign_in_link"("staff_id");
CREATE INDEX "sign_in_link_created_by_id_idx" ON "sign_in_link"("created_by_id");
CREATE INDEX "sign_in_pace_full_at_idx" ON "sign_in_pace"("full_at");
-- An e-mail address is what somebody signs in as, so it is one person's; case makes no difference.
CREATE UNIQUE INDEX staff_email_key ON staff (lower(email));
-- One link that still opens for each person, and one for the first owner.
CREATE UNIQUE INDEX sign_in_link_one_open
  ON sign_in_link (COALESCE(staff_id, '00000000-0000-0000-0000-000000000000'))
  WHERE used_at IS NULL AND revoked_at IS NULL;

ALTER TABLE "staff_password" ADD CONSTRAINT "staff_password_staff_id_fkey"
  FOREIGN KEY ("staff_id") REFERENCES "staff"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "staff_session" ADD CONSTRAINT "staff_session_staff_id_fkey"
  FOREIGN KEY ("staff_id") REFERENCES "staff"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "sign_in_link" ADD CONSTRAINT "sign_in_link_staff_id_fkey"
  FOREIGN KEY ("staff_id") REFERENCES "staff"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE sign_in_link ADD CONSTRAINT sign_in_link_created_by_fkey
  FOREIGN KEY (created_by_id) REFERENCES staff (id);

-- ---------------------------------------------------------------- guards

-- Never the password itself, nor a hash that is quick to guess.
ALTER TABLE staff_password ADD CONSTRAINT staff_password_is_argon2id CHECK
  (hash ~ '^\$argon2id\$v=19\$m=\d+,t=\d+,p=\d+\$[A-Za-z0-9+/]+\$[A-Za-z0-9+/]{43}$');

ALTER TABLE staff_session
  ADD CONSTRAINT staff_session_carrier CHECK (carrier IN ('bearer', 'cookie')),
  ADD CONSTRAINT staff_session_token_hash CHECK (octet_length(token_hash) = 32),
  ADD CONSTRAINT staff_session_idle_within CHECK (idle_until <= expires_at AND idle_seconds > 0);

ALTER TABLE sign_in_link
  ADD CONSTRAINT sign_in_link_purpose CHECK (purpose IN ('first_owner', 'invitation', 'new_password')),
  ADD CONSTRAINT sign_in_link_token_hash CHECK (octet_length(token_hash) = 32),
  -- The first owner is nobody yet, and nobody sends that link.
  ADD CONSTRAINT sign_in_link_whose CHECK
    ((purpose = 'first_owner') = (staff_id IS NULL) AND (purpose = 'first_owner') = (created_by_id IS NULL)),
  ADD CONSTRAINT sign_in_link_one_end CHECK (used_at IS NULL OR revoked_at IS NULL),
  ADD CONSTRAINT sign_in_link_used_in_time CHECK (used_at IS NULL OR used_at < expires_at),
  ADD CONSTRAINT sign_in_link_short_lived CHECK (expires_at <= created_at + interval '7 days');

-- What has ended stays ended, whoever comes late.
CREATE FUNCTION check_session_change() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'DELETE' OR OLD.ended_at IS NOT NULL
    OR to_jsonb(NEW) - '{idle_until,ended_at}'::text[] <> to_jsonb(OLD) - '{idle_until,ended_at}'::text[]
  THEN
    PERFORM refuse(TG_NAME, format('%s of session %s', lower(TG_OP), OLD.id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER staff_session_ends_once BEFORE UPDATE OR DELETE ON staff_session
  FOR EACH ROW EXECUTE FUNCTION check_session_change();

CREATE FUNCTION check_sign_in_link_change() RETURNS trigger LANGUAGE plpgsql
  SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'DELETE' OR num_nonnulls(OLD.used_at, OLD.revoked_at) > 0
    OR to_jsonb(NEW) - '{used_at,revoked_at}'::text[] <> to_jsonb(OLD) - '{used_at,revoked_at}'::text[]
  THEN
    PERFORM refuse(TG_NAME, format('%s of link %s', lower(TG_OP), OLD.id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER sign_in_link_ends_once BEFORE UPDATE OR DELETE ON sign_in_link
  FOR EACH ROW EXECUTE FUNCTION check_sign_in_link_change();

CREATE TRIGGER staff_session_never_emptied BEFORE TRUNCATE ON staff_session
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER sign_in_link_never_emptied BEFORE TRUNCATE ON sign_in_link
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

REVOKE EXECUTE ON FUNCTION check_session_change(), check_sign_in_link_change() FROM PUBLIC;

-- ---------------------------------------------------------------- who may

-- Reports have no use for any of this.
GRANT SELECT, INSERT ON staff_password, staff_session, sign_in_link, sign_in_pace TO evenhand_app;
GRANT UPDATE (hash, changed_at) ON staff_password TO evenhand_app;
GRANT UPDATE (idle_until, ended_at) ON staff_session TO evenhand_app;
GRANT UPDATE (used_at, revoked_at) ON sign_in_link TO evenhand_app;
GRANT UPDATE (full_at) ON sign_in_pace TO evenhand_app;
-- Whoever has tried nothing for a while is forgotten.
GRANT DELETE ON sign_in_pace TO evenhand_app;
