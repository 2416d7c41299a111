//! The one integration binary: it links once.
#![allow(unreachable_pub)]

/// Arrows between the folders of `src`, and what each may not do.
mod architecture;
/// Every problem that the reader of tool files can name.
mod bad_files;
/// The kernel against closed forms.
mod closed_form;
/// How much tools give, against direct stiffness, closed forms and differences.
mod give;
/// Mechanisms with a closed-form answer.
mod models;
/// README, starters and demo data do what they say.
mod readme;
/// Rewriting what the repository shows, on purpose.
mod renew;
/// Factors of pins and parts under loads written down by hand.
mod strength;
/// Good tool files and what they mean.
mod tool_files;
