//! The mistakes of keys, ids and documents that reading can report, one method each; those of single
//! values stand in `mistake_value`. Their sheets stand in `rules/reading/`.

use super::reader::{Reader, Slot};
use super::record::Key;
use super::spelling::Near;
use super::wording::{briefly, shown};
use crate::findings::{Finding, Level, Mark, Redline, RedlineKind};
use crate::yaml::{Edit, Further, Kind, NodeId, Span};

impl Reader<'_> {
    /// Adds a mistake unless the same one was reported at the same bytes before.
    pub(crate) fn report(
        &mut self,
        rule: &'static str,
        node: NodeId,
        says: String,
        label: &str,
    ) -> Option<&mut Finding> {
        let (own, span) = (self.solid(node), self.span(node));
        self.report_at(rule, own, span, says, label)
    }

    /// `own` are the bytes themselves, `span` the way by which they were reached.
    pub(crate) fn report_at(
        &mut self,
        rule: &'static str,
        own: Span,
        span: Span,
        says: String,
        label: &str,
    ) -> Option<&mut Finding> {
        if !self.reported.insert((rule, own)) {
            return None;
        }
        self.findings.push(Finding::new(
            rule,
            Level::Fault,
            self.on.clone(),
            says,
            span,
            label,
        ));
        let about = self.keys();
        let finding = self.findings.last_mut()?;
        finding.about = about;
        Some(finding)
    }

    /// The keys on the way to what is being read, if there are any.
    fn keys(&self) -> Option<Box<str>> {
        let keys = self.path.iter().map(|slot| self.source.text_of(slot.key));
        let keys = keys.collect::<Vec<_>>().join("/");
        (!keys.is_empty()).then(|| keys.into())
    }

    /// The thing being read, or the file.
    pub(crate) fn thing(&self) -> String {
        if self.in_section {
            shown(self.on.as_str())
        } else {
            format!("the {}", self.on)
        }
    }

    /// The key being read: `length` of S4, `apart` in `beside` of S4.
    pub(crate) fn subject(&self) -> String {
        let keys: Vec<_> = self
            .path
            .iter()
            .rev()
            .map(|slot| format!("`{}`", shown(self.source.text_of(slot.key))))
            .collect();
        if keys.is_empty() {
            self.thing()
        } else {
            format!("{} of {}", keys.join(" in "), self.thing())
        }
    }

    /// An edit that replaces a node; none where the node is shared through an alias.
    pub(crate) fn replacing(
        &self,
        node: NodeId,
        text: &str,
        kind: RedlineKind,
        title: String,
    ) -> Option<Redline> {
        if self.is_shared() || !self.source.tree.is_scalar(node) {
            return None;
        }
        let bytes = self.source.tree.bytes(node);
        Some(Redline {
            kind,
            title,
            edits: vec![Edit {
                at: self.source.spot_of(bytes),
                text: text.into(),
            }],
        })
    }

    pub(crate) fn kind_of_guess(near: &Near<'_>, wrong: &str) -> RedlineKind {
        if near.is_sure(wrong) {
            RedlineKind::Same
        } else {
            RedlineKind::Change
        }
    }

    /// `meant` is the key that it may be, and that is not there yet.
    pub(super) fn unknown_key(
        &mut self,
        key: &str,
        slot: Slot,
        what: &str,
        keys: &[Key],
        near: Option<Near<'_>>,
        meant: Option<&'static str>,
    ) {
        let says = format!(
            "{} has the key `{}`, which {what} does not take",
            self.subject(),
            shown(key)
        );
        let redline = near.as_ref().zip(meant).and_then(|(near, word)| {
            self.replacing(
                slot.key,
                word,
                Self::kind_of_guess(near, key),
                format!("write `{word}`"),
            )
        });
        // `{length: 1,200 ft}` has a key `200 ft` without so much as a colon.
        let behind = self.source.tree.bytes(slot.key).end;
        let alone = self.source.tree.is_empty_scalar(slot.value)
            && !self.source.text[behind..].trim_start().starts_with(':');
        let reads_slips = self.reads_slips;
        if let Some(finding) = self.report("plan.unknown-key", slot.key, says, "unknown key") {
            finding.be_about(key);
            finding.put_right = Some(match (near, meant) {
                (Some(near), meant) => near.advice(reads_slips && meant.is_some()),
                (None, _) if alone => {
                    "inside braces a comma ends the value before it: take the comma out, or put that value in quotes".into()
                }
                (None, _) => {
                    let names: Vec<_> = keys.iter().map(|key| key.name).collect();
                    format!(
                        "take it out, or use one of the keys of {what}: {}",
                        names.join(", ")
                    )
                }
            });
            finding.redlines.extend(redline);
        }
    }

    /// A key that is itself a list, a mapping or an alias.
    pub(super) fn no_key(&mut self, key: NodeId) {
        let says = format!(
            "{} has a key that is {}, not a word",
            self.subject(),
            self.found(key)
        );
        if let Some(finding) = self.report("plan.wrong-kind", key, says, "no key") {
            finding.put_right = Some("write the key as a plain word".into());
        }
    }

    /// A `<<` that has no mapping behind it.
    pub(super) fn no_merge(&mut self, node: NodeId) {
        let says = format!(
            "{} merges {}, not the keys of another",
            self.subject(),
            self.found(node)
        );
        if let Some(finding) = self.report("plan.wrong-kind", node, says, "nothing to merge") {
            finding.put_right = Some(
                "write an alias of a set of `key: value` pairs behind `<<:`, or a list of them"
                    .into(),
            );
        }
    }

    /// The word that it is read as, where `text` can hardly mean another.
    pub(crate) fn unknown_word(
        &mut self,
        node: NodeId,
        text: &str,
        what: &str,
        words: &[&'static str],
    ) -> Option<&'static str> {
        let says = format!(
            "{} is `{}`, which is not {what}",
            self.subject(),
            shown(text)
        );
        let near = self.near(text, words.iter().copied());
        let redline = near.as_ref().and_then(|near| {
            let word = near.only()?;
            let written = if word.contains(':') {
                format!("\"{word}\"")
            } else {
                word.to_owned()
            };
            self.replacing(
                node,
                &written,
                Self::kind_of_guess(near, text),
                format!("write `{word}`"),
            )
        });
        let meant = near
            .as_ref()
            .filter(|near| self.reads_slips && near.is_sure(text))
            .and_then(Near::only);
        if let Some(finding) = self.report("plan.unknown-word", node, says, "not a known word") {
            finding.put_right = Some(match near {
                Some(near) => near.advice(meant.is_some()),
                None => format!("write one of: {}", words.join(", ")),
            });
            finding.redlines.extend(redline);
        }
        meant
    }

    pub(super) fn missing_key(&mut self, key: &'static str, what: &str, keys: &[Key], map: NodeId) {
        let says = format!("{} has no `{key}`: {what} needs one", self.subject());
        // A thing is pointed at by its id, an entry of a list by itself.
        let (own, span) = if self.path.is_empty() {
            (self.at, self.at)
        } else {
            (self.solid(map), self.span(map))
        };
        if !self.reported.insert((key, own)) {
            return;
        }
        let tree = &self.source.tree;
        let first = tree
            .entries(map)
            .next()
            .filter(|_| tree.kind(map) == Kind::BlockMap && !self.is_shared());
        let redline = first
            .filter(|(first, _)| {
                // Only a line of its own can be put before the first key.
                let start = tree.bytes(*first).start;
                key == "nailplate" && self.source.position(start).column == 1
            })
            .map(|(first, _)| {
                let start = tree.bytes(first).start;
                let text = format!("nailplate: 1{}", self.source.line_end());
                Redline {
                    kind: RedlineKind::Same,
                    title: "add the version".into(),
                    edits: vec![Edit {
                        at: self.source.spot_of(start..start),
                        text,
                    }],
                }
            });
        let wants = keys
            .iter()
            .find(|known| known.name == key)
            .map_or("", |known| known.wants);
        let mut finding = Finding::new(
            "plan.missing-key",
            Level::Fault,
            self.on.clone(),
            says,
            span,
            format!("no `{key}` here"),
        );
        finding.about = self.keys();
        finding.be_about(key);
        finding.put_right = Some(match key {
            "nailplate" => "add `nailplate: 1`, the version of the plan language".into(),
            "region" => {
                "add `region:` with us, ca, gb, eu or au; it chooses the limits and tables".into()
            }
            _ => format!("add `{key}:` with {}", briefly(wants)),
        });
        finding.redlines.extend(redline);
        self.findings.push(finding);
    }

    pub(super) fn duplicate_key(&mut self, key: &str, slot: Slot, first: Option<Span>) {
        let says = format!(
            "{} has `{}` twice; the first is used",
            self.subject(),
            shown(key)
        );
        if let Some(finding) = self.report("plan.duplicate-key", slot.key, says, "given before") {
            finding.be_about(key);
            finding.put_right = Some("keep one of the two".into());
            finding.marks.extend(first.map(|span| Mark {
                span,
                label: "the first, which is used".into(),
            }));
        }
    }

    pub(super) fn lost_alias(&mut self, node: NodeId) {
        let text = self.source.tree.bytes(node);
        let name = shown(self.source.text.get(text).unwrap_or(""));
        let says = format!(
            "{} is the alias `{name}`, and no such anchor stands before it",
            self.subject()
        );
        if let Some(finding) = self.report("plan.lost-alias", node, says, "no such anchor") {
            finding.put_right =
                Some("put the anchor before its alias, or write the value itself".into());
        }
    }

    /// Reported once for each file: `what` went beyond a limit at `node`.
    pub(super) fn too_many_aliases(&mut self, node: NodeId, what: &str) {
        let own = self.source.span_of(0..0);
        if self.reported.contains(&("plan.too-many-aliases", own)) {
            return;
        }
        let span = self.span(node);
        let says = format!("{what}; not all of them were read");
        if let Some(finding) = self.report_at(
            "plan.too-many-aliases",
            own,
            span,
            says,
            "reading stopped here",
        ) {
            finding.put_right = Some("write the values themselves".into());
        }
    }

    pub(super) fn second_document(&mut self, further: Further) {
        let byte = further.start as usize;
        let rest = self.source.text.get(byte..).unwrap_or("");
        let sign: usize = rest
            .chars()
            .take_while(|c| !c.is_whitespace())
            .take(3)
            .map(char::len_utf8)
            .sum();
        let span = if sign == 0 {
            self.at
        } else {
            self.source.span_of(byte..byte + sign)
        };
        let (says, label, put_right) = match further.is_joined {
            true => (
                "another document starts here; it was read as more of the first",
                "ends what stands before",
                "take this line out",
            ),
            false => (
                "another document starts here; it was not read",
                "not read from here on",
                "one file holds one plan: move the rest to a file of its own",
            ),
        };
        if let Some(finding) =
            self.report_at("plan.second-document", span, span, says.to_owned(), label)
        {
            finding.put_right = Some(put_right.into());
        }
    }
}
