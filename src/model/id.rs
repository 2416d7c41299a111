//! Numbers of parts, joints, grips and jaws, each a type of its own: one cannot be taken for another.
//!
//! ```
//! use jawforce::model::{Numbered, PartId};
//! struct Body(f64);
//! impl Numbered<PartId> for Body {}
//! let bodies = vec![Body(1.0), Body(2.0)];
//! let heavy = PartId::each(&bodies).find(|(_, body)| body.0 > 1.5).map(|(part, _)| part);
//! assert_eq!(heavy, Some(PartId::new(1)));
//! assert_eq!(bodies[PartId::FIRST].0, 1.0);
//! ```
//! A jaw is no grip,
//! ```compile_fail,E0308
//! use jawforce::model::{GripId, JawId};
//! let span = |grip: GripId| grip.index();
//! span(JawId::FIRST);
//! ```
//! and a joint no part:
//! ```compile_fail,E0277
//! use jawforce::model::{JointId, Part};
//! let parts: Vec<Part> = Vec::new();
//! let part = &parts[JointId::FIRST];
//! ```

use std::fmt::{self, Display, Formatter};
use std::ops::{Index, IndexMut};

/// Things of which a tool has a list, numbered by `Id` in its order. Such a list is indexed by its own
/// ids and by no other; lists that a calculation keeps beside it by [`PartId::index`] and the like.
pub trait Numbered<Id> {}

macro_rules! id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(usize);

        impl $name {
            /// The first.
            pub const FIRST: Self = Self(0);

            /// The one at that place in the list.
            #[inline]
            #[must_use]
            pub const fn new(index: usize) -> Self {
                Self(index)
            }

            /// Its place in the list.
            #[inline]
            #[must_use]
            pub const fn index(self) -> usize {
                self.0
            }

            /// All of a list of that length.
            #[inline]
            pub fn ids(count: usize) -> impl DoubleEndedIterator<Item = Self> + ExactSizeIterator + Clone {
                (0..count).map(Self)
            }

            /// A list, each with its id.
            #[inline]
            pub fn each<T>(list: &[T]) -> impl DoubleEndedIterator<Item = (Self, &T)> + ExactSizeIterator + Clone {
                list.iter().enumerate().map(|(index, one)| (Self(index), one))
            }
        }

        /// Its place in the list, counted from 0.
        impl Display for $name {
            fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
                write!(f, "{}", self.0)
            }
        }

        impl<T: Numbered<$name>> Index<$name> for Vec<T> {
            type Output = T;

            #[inline]
            fn index(&self, id: $name) -> &T {
                &self[id.0]
            }
        }

        impl<T: Numbered<$name>> Index<$name> for [T] {
            type Output = T;

            #[inline]
            fn index(&self, id: $name) -> &T {
                &self[id.0]
            }
        }

        impl<T: Numbered<$name>> IndexMut<$name> for [T] {
            #[inline]
            fn index_mut(&mut self, id: $name) -> &mut T {
                &mut self[id.0]
            }
        }

        impl<T: Numbered<$name>> IndexMut<$name> for Vec<T> {
            #[inline]
            fn index_mut(&mut self, id: $name) -> &mut T {
                &mut self[id.0]
            }
        }
    };
}

id! {
    /// A part: its place in [`super::Tool::parts`].
    PartId
}
id! {
    /// A joint: its place in [`super::Tool::all_joints`]. Pins come first, so that it is also the place of
    /// a pin joint in [`super::Tool::joints`].
    JointId
}
id! {
    /// A grip: its place in [`super::Hand::grips`].
    GripId
}
id! {
    /// A jaw: its place in [`super::Tool::jaws`].
    JawId
}
id! {
    /// A stop: its place in [`super::Tool::stops`].
    StopId
}
