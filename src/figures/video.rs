//! Data rate of a picture on the digital video interface.

use super::{Figure, positive, sound};
use crate::units::{DataRate, Frequency, figure3, unit};

/// How colour is sampled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Chroma {
    C444,
    C422,
    C420,
}

/// Line coding of the link.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Coding {
    /// Transition-minimised differential signalling, 8 bit in 10.
    Tmds,
    /// Fixed rate link, 16 bit in 18.
    FixedRate,
}

/// What TMDS carries at most: three lanes of 6 Gbit/s (HDMI 2.0).
const TMDS_MOST: f64 = 18.0;

/// Rate of all lanes together, blanking and line coding included, in Gbit/s.
///
/// TMDS: `3 × 10 bit × pixel clock × depth/8`; half of that for 4:2:0; 4:2:2 as 4:4:4 of 8 bit up
/// to 12 bit. Over 18 Gbit/s, or compressed (which only the fixed rate link can carry): `pixel clock × bits
/// per pixel × 18/16 ÷ compression`, an upper bound, as that link may trim blanking. Coding factors: HDMI 1.3,
/// 2.0 and 2.1, from memory.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VideoRate {
    megahertz: f64,
    depth: u8,
    chroma: Chroma,
    compression: Option<f64>,
    tmds: f64,
    gigabits: f64,
    coding: Coding,
}

impl VideoRate {
    /// `depth` in bits per component: 8, 10, 12, or 16 (not with 4:2:2, which ends at 12).
    /// `compression` as a ratio of 1 or more. `None` for any other depth or ratio, for a clock that is
    /// not above zero, or an overflow.
    pub fn of(
        clock: Frequency,
        depth: u8,
        chroma: Chroma,
        compression: Option<f64>,
    ) -> Option<Self> {
        if !matches!(depth, 8 | 10 | 12 | 16) || (chroma == Chroma::C422 && depth > 12) {
            return None;
        }
        let megahertz = positive(clock.get::<unit::megahertz>())?;
        let tmds = 30.0 * megahertz * character_factor(depth, chroma) / 1000.0;
        let fixed = megahertz * bits_per_pixel(depth, chroma) * 18.0 / 16.0 / 1000.0;
        let (coding, gigabits) = match compression {
            Some(ratio) if ratio >= 1.0 => (Coding::FixedRate, fixed / ratio),
            Some(_) => return None,
            None if tmds > TMDS_MOST => (Coding::FixedRate, fixed),
            None => (Coding::Tmds, tmds),
        };
        Some(Self {
            megahertz,
            depth,
            chroma,
            compression,
            tmds: sound(tmds)?,
            gigabits: positive(gigabits)?,
            coding,
        })
    }

    pub fn rate(&self) -> DataRate {
        DataRate::new::<unit::gigabit_per_second>(self.gigabits)
    }

    pub fn coding(&self) -> Coding {
        self.coding
    }
}

/// TMDS characters per pixel.
fn character_factor(depth: u8, chroma: Chroma) -> f64 {
    match chroma {
        Chroma::C444 => f64::from(depth) / 8.0,
        Chroma::C422 => 1.0,
        Chroma::C420 => f64::from(depth) / 16.0,
    }
}

/// Bits per pixel as carried; 4:2:2 travels as 24 at any depth.
fn bits_per_pixel(depth: u8, chroma: Chroma) -> f64 {
    match chroma {
        Chroma::C444 => 3.0 * f64::from(depth),
        Chroma::C422 => 24.0,
        Chroma::C420 => 1.5 * f64::from(depth),
    }
}

impl Figure for VideoRate {
    const NAME: &'static str = "video-rate";
    const UNIT: &'static str = "Gbit/s";

    fn value(&self) -> f64 {
        self.gigabits
    }

    fn working(&self) -> String {
        let (clock, gigabits) = (figure3(self.megahertz), figure3(self.gigabits));
        let depth = self.depth;
        let factor = match self.chroma {
            Chroma::C444 => format!("{depth}/8"),
            Chroma::C422 => "1 (4:2:2)".into(),
            Chroma::C420 => format!("{depth}/8 ÷ 2 (4:2:0)"),
        };
        let tmds = format!("3 × 10 bit × {clock} MHz × {factor}");
        let bits = figure3(bits_per_pixel(depth, self.chroma));
        let fixed = format!("{clock} MHz × {bits} bit × 18/16");
        match (self.coding, self.compression) {
            (Coding::Tmds, _) => format!("{tmds} = {gigabits} Gbit/s"),
            (Coding::FixedRate, Some(ratio)) => {
                let ratio = figure3(ratio);
                format!("{fixed} ÷ {ratio} (compressed) = {gigabits} Gbit/s")
            }
            (Coding::FixedRate, None) => {
                let over = figure3(self.tmds);
                format!("{tmds} = {over} Gbit/s, over 18, so {fixed} = {gigabits} Gbit/s")
            }
        }
    }
}
