//! The integration tests, one binary.

mod bad_files;
mod tool_files;
