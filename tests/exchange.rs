//! Files that people carry in and out.

mod csv_encodings;
mod csv_oddities;
mod csv_properties;
mod csv_rules;
