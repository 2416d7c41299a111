//! EN 1005-3's way from a basic force to a recommended one.
//!
//! All figures here are from memory: verify against EN 1005-3:2002+A1 before relying on them.

/// Basic force of a power grip with one hand, N (EN 1005-3, from memory): professional or
/// domestic use.
#[must_use]
pub fn base_force(professional: bool) -> f64 {
    if professional { 250.0 } else { 184.0 }
}

/// How long one action lasts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ActionTime {
    /// Up to 0.05 min.
    Short,
    /// Longer.
    Long,
}

/// Conditions of use that reduce the basic force.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reduction {
    /// Evident movement, as against none or very slow.
    pub moving: bool,
    /// Length of one action.
    pub action: ActionTime,
    /// Actions in a minute.
    pub per_minute: f64,
    /// Hours a day.
    pub hours: f64,
    /// Risk multiplier: up to 0.5 is recommended, above 0.7 to be avoided.
    pub risk: f64,
}

impl Default for Reduction {
    /// No or slow movement, short and rare actions, up to an hour a day, at the recommended risk.
    fn default() -> Self {
        Self {
            moving: false,
            action: ActionTime::Short,
            per_minute: 0.0,
            hours: 1.0,
            risk: 0.5,
        }
    }
}

impl Reduction {
    /// Speed multiplier.
    #[must_use]
    pub fn speed(&self) -> f64 {
        if self.moving { 0.8 } else { 1.0 }
    }

    /// Frequency multiplier.
    #[must_use]
    pub fn frequency(&self) -> f64 {
        let row = match self.per_minute {
            f if f <= 0.2 => 0,
            f if f <= 2.0 => 1,
            f if f <= 20.0 => 2,
            _ => 3,
        };
        // Long actions more often than 20 a minute cannot be.
        let table = match self.action {
            ActionTime::Short => [1.0, 0.8, 0.5, 0.3],
            ActionTime::Long => [0.6, 0.4, 0.2, 0.0],
        };
        table[row]
    }

    /// Duration multiplier.
    #[must_use]
    pub fn duration(&self) -> f64 {
        match self.hours {
            h if h <= 1.0 => 1.0,
            h if h <= 2.0 => 0.8,
            _ => 0.5,
        }
    }

    /// The reduced force: basic force × speed × frequency × duration × risk.
    #[must_use]
    pub fn apply(&self, base: f64) -> f64 {
        base * self.speed() * self.frequency() * self.duration() * self.risk
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// EN 1005-3 multipliers, from memory.
    #[test]
    fn multipliers_step_at_their_limits() {
        let of = |action, per_minute| {
            let reduction = Reduction {
                action,
                per_minute,
                ..Reduction::default()
            };
            reduction.frequency()
        };
        for (rate, short, long) in [(0.2, 1.0, 0.6), (2.0, 0.8, 0.4), (20.0, 0.5, 0.2)] {
            assert_eq!(of(ActionTime::Short, rate), short);
            assert_eq!(of(ActionTime::Long, rate), long);
        }
        assert_eq!(of(ActionTime::Short, 25.0), 0.3);
        for (hours, share) in [(1.0, 1.0), (2.0, 0.8), (8.0, 0.5)] {
            let reduction = Reduction {
                hours,
                ..Reduction::default()
            };
            assert_eq!(reduction.duration(), share);
        }
    }
}
