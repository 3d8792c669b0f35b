//! Circuits of one phase and of three.

/// How many phases a circuit has. The loads of a circuit of three are taken to be shared by them equally.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Phases {
    One,
    Three,
}

impl Phases {
    /// What the voltage between two lines counts for: `P = V × I`, with three phases `√3 × V × I`.
    pub fn root(self) -> f64 {
        match self {
            Self::One => 1.0,
            Self::Three => 3_f64.sqrt(),
        }
    }

    /// What the drop out and back counts for: all of it, with three phases √3 ÷ 2 of it, between two lines.
    pub fn of_loop(self) -> f64 {
        match self {
            Self::One => 1.0,
            Self::Three => 3_f64.sqrt() / 2.0,
        }
    }
}
