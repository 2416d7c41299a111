#![allow(unreachable_pub)]
//! The one integration binary: it links once.

/// Mechanisms with a closed-form answer.
mod models;

/// The kernel against closed forms.
mod closed_form;
