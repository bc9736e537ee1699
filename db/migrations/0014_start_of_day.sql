ALTER TABLE "site" ADD COLUMN "start_of_day" jsonb;
