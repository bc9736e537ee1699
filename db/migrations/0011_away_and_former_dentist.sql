ALTER TABLE "roster" ADD COLUMN "away" jsonb;--> statement-breakpoint
ALTER TABLE "appointment" ADD COLUMN "former_dentist" jsonb;