//! The one integration binary: it links once.
#![allow(unreachable_pub)]

/// Every problem that the reader of tool files can name.
mod bad_files;
/// The kernel against closed forms.
mod closed_form;
/// The same tool drawn otherwise.
mod invariance;
/// Mechanisms with a closed-form answer.
mod models;
/// Random linkages against work and closure.
mod properties;
/// Published values of textbooks and handbooks.
mod published;
/// Good tool files and what they mean.
mod tool_files;
