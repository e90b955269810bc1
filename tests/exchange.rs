//! Files that people carry in and out.

mod bundle;
mod csv_encodings;
mod csv_oddities;
mod csv_properties;
mod csv_rules;
mod heads;
mod jobfile;
mod schedule_files;
mod schedule_headings;
mod schedule_rows;
