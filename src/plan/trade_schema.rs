//! Spellings of the trade as patterns of a schema.

use serde_json::{Value, json};

use super::trade::{
    BitDepth, Breadth, Cores, DATE, Date, Head, PICTURE, Picture, Stretch, TradeSize,
};
use super::{Bounded, Shape, patterns, quantity};
use crate::schema::{Defs, Schema};
use crate::units::{AngleDim, LengthDim};

impl Schema for Cores {
    fn schema(defs: &mut Defs) -> Value {
        let pattern = {
            let size = patterns::wire_size();
            format!(r"[0-9]{{1,4}} *[xX×]\s*{size}\s*(?:\+\s*(?:{size}\s+)?earth)?")
        };
        patterns::define(defs, "cores", Self::WANTS, quantity::OVER_ZERO, &pattern)
    }
}

impl Schema for Breadth {
    fn schema(defs: &mut Defs) -> Value {
        let pattern = {
            let side = patterns::quantity::<LengthDim>(quantity::SMALL);
            format!(r"{side}(?:\s*[xX×]\s*{side})?")
        };
        patterns::define(defs, "breadth", Self::WANTS, quantity::OVER_ZERO, &pattern)
    }
}

impl Schema for Head {
    fn schema(defs: &mut Defs) -> Value {
        let pattern = {
            let side = patterns::quantity::<LengthDim>(quantity::SMALL);
            format!(r"{side}(?:\s*[xX×]\s*{side}){{2}}")
        };
        patterns::define(defs, "head", Self::WANTS, quantity::OVER_ZERO, &pattern)
    }
}

impl Schema for Stretch {
    fn schema(defs: &mut Defs) -> Value {
        let angle = Bounded::<AngleDim, { quantity::FROM_ZERO }>::schema(defs);
        let length = Bounded::<LengthDim, { quantity::OVER_ZERO }>::schema(defs);
        json!({"anyOf": [length, angle]})
    }
}

impl Schema for TradeSize {
    fn schema(defs: &mut Defs) -> Value {
        defs.define("trade size", |_| {
            let size = patterns::number(quantity::OVER_ZERO);
            let pattern = format!(r#"{size}\s*(?:in|"|inch)?"#);
            json!({"description": Self::WANTS, "anyOf": [
                {"type": "number", "exclusiveMinimum": 0, "maximum": 12},
                {"type": "string", "pattern": patterns::alone(quantity::OVER_ZERO, &pattern)},
            ]})
        })
    }
}

impl Schema for Picture {
    fn schema(defs: &mut Defs) -> Value {
        let pattern = PICTURE.as_str().trim_matches(['^', '$']);
        patterns::define(defs, "picture", Self::WANTS, quantity::OVER_ZERO, pattern)
    }
}

impl Schema for BitDepth {
    fn schema(defs: &mut Defs) -> Value {
        let pattern = {
            let bits = patterns::number(quantity::OVER_ZERO);
            format!(r"{bits}\s*(?:bit|bits|-bit)")
        };
        patterns::define(
            defs,
            "bit depth",
            Self::WANTS,
            quantity::OVER_ZERO,
            &pattern,
        )
    }
}

impl Schema for Date {
    fn schema(defs: &mut Defs) -> Value {
        let pattern = DATE.as_str().trim_matches(['^', '$']);
        patterns::define(defs, "date", Self::WANTS, quantity::OVER_ZERO, pattern)
    }
}
