-- Whoever holds a paper looks up what was issued by the fingerprint printed on it. It is compared as
-- a whole and never sorted, and a hash index keeps four bytes of each where a tree keeps 64.

SET lock_timeout = '2s';

CREATE INDEX "quote_issue_content_hash_idx" ON "quote_issue" USING HASH ("content_hash");
CREATE INDEX "invoice_issue_content_hash_idx" ON "invoice_issue" USING HASH ("content_hash");
CREATE INDEX "credit_memo_content_hash_idx" ON "credit_memo" USING HASH ("content_hash");
CREATE INDEX "work_record_content_hash_idx" ON "work_record" USING HASH ("content_hash");
