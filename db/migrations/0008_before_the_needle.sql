ALTER TABLE "policy_set" ADD COLUMN "lines" jsonb;--> statement-breakpoint
ALTER TABLE "visit" ADD COLUMN "identity_differed" jsonb;