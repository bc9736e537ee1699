ALTER TABLE "membership" ADD COLUMN "pin" text;--> statement-breakpoint
ALTER TABLE "session" ADD COLUMN "station_id" uuid;--> statement-breakpoint
ALTER TABLE "member" ADD COLUMN "draws_first" boolean;--> statement-breakpoint
ALTER TABLE "operatory" ADD COLUMN "retired_at" bigint;--> statement-breakpoint
ALTER TABLE "isolation_choice" ADD COLUMN "drawing" jsonb;