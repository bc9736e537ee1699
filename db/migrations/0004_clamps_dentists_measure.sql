ALTER TABLE "policy_set" ADD COLUMN "clamps" jsonb;--> statement-breakpoint
ALTER TABLE "policy_set" ADD COLUMN "of_dentists" jsonb;--> statement-breakpoint
ALTER TABLE "mouth_chart" ADD COLUMN "measure" jsonb;