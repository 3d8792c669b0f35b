//! The data rate of a display's picture.

use super::topology::{House, Node};
use crate::figures::video::{Chroma as Sampling, VideoRate};
use crate::findings::Lack;
use crate::plan::{BitDepth, Chroma, Endpoint, EndpointKind, Entry, YesNo};
use crate::tables::timings::{Timing, timing};

impl House<'_> {
    /// The projector or display that a node is, or stands in, or whose plate or box it is; also anything else with a
    /// picture.
    pub fn display_at(&self, node: Node) -> Option<usize> {
        self.served_at(node.endpoint()?, |endpoint| {
            matches!(
                endpoint.kind.value(),
                Some(EndpointKind::Projector | EndpointKind::Display)
            ) || !endpoint.picture.is_absent()
        })
    }

    /// Data rate of the picture that an endpoint shows, with the timing that it follows. 8 bit and
    /// 4:4:4 are taken where the plan says neither; `compression` divides by `ratio`.
    ///
    /// # Errors
    /// No picture is stated, or no table has its timing.
    pub fn video_rate(
        &self,
        display: &Entry<Endpoint>,
        ratio: f64,
    ) -> Result<(VideoRate, Timing), Lack> {
        let picture = display.picture.want("picture", &display.id)?;
        let depth = display.depth.or(BitDepth(8))?;
        let chroma = match display.chroma.or(Chroma::C444)? {
            Chroma::C444 => Sampling::C444,
            Chroma::C422 => Sampling::C422,
            Chroma::C420 => Sampling::C420,
        };
        let compression = display.compression.or(YesNo(false))?.0.then_some(ratio);
        let timing = timing(
            picture.width,
            picture.height,
            picture.hertz,
            picture.interlaced,
        )
        .ok_or_else(|| {
            Lack::absent(format!(
                "a published timing for {} of {}",
                picture.value, display.id
            ))
        })?;
        let rate = VideoRate::of(timing.clock, depth.0, chroma, compression).ok_or_else(|| {
            Lack::absent(format!(
                "a published rate for {} at {} bit {}",
                picture.value,
                depth.0,
                display.chroma.value().map_or("4:4:4", |c| c.word())
            ))
        })?;
        Ok((rate, timing))
    }
}
