//! What a sample keeps of numbers that are no dimensions of parts, taken anew: hand, friction, springs.
//!
//! Slots and jaws come with the dimensions ([`Linkage::redimension`]); the work and the clearances are read
//! where they are needed.

use crate::mechanism::Linkage;
use crate::model::Tool;
use crate::statics::Ask;

/// Takes over the numbers of a sampled tool; `false` where a grip has come to lie off its hand line.
pub(super) fn take(tool: &Tool, linkage: &mut Linkage, ask: &mut Ask) -> bool {
    ask.hand_force = tool.hand.force;
    ask.burden.take(tool, linkage);
    linkage.take_hand(tool).is_ok()
}
