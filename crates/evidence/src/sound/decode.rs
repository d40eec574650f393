//! Sound files and the sound of phone films, as a stream of samples of one channel.
//!
//! WAV, FLAC, OGG Vorbis, MP3, AAC, and the audio track of MP4 and MOV. Memory does not grow with
//! the length of the recording.
//!
//! **Encoder delay.** AAC and MP3 put priming samples in front. Where the decoder knows their number
//! it drops them. In MP4 and MOV the edit list states it and is applied here; where there is no edit
//! list, 1024 samples (one AAC frame, the usual priming of an AAC-LC encoder) are taken, and
//! [`SoundInfo::delay_assumed`] says so: 21 ms at 48 kHz, to add to the uncertainty when sound is
//! set beside picture. Rates of rotation do not care.

use super::quality::Quality;
use crate::video::mp4::{self, TrackKind};
use std::io::{Read, Seek, SeekFrom};
use symphonia::core::codecs::audio::well_known::CODEC_ID_AAC;
use symphonia::core::codecs::audio::{AudioDecoder, AudioDecoderOptions};
use symphonia::core::errors::Error as Coded;
use symphonia::core::formats::probe::Hint;
use symphonia::core::formats::{FormatReader, TrackType};
use symphonia::core::io::{MediaSource, MediaSourceStream};

/// One AAC frame, in samples.
const AAC_PRIMING: u64 = 1024;
/// Damaged packets in a row after which the rest is given up.
const MOST_BAD_PACKETS: u32 = 200;

/// Which channel to hear.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Channel {
    /// The mean of all.
    #[default]
    Mean,
    /// One, counted from zero.
    Only(usize),
}

/// What a recording is.
#[derive(Debug, Clone, PartialEq)]
pub struct SoundInfo {
    /// Samples a second.
    pub rate_hz: u32,
    /// Channels in the file.
    pub channels: usize,
    /// Time of the first sample given, s on the file's own clock. Below zero while priming lasts.
    pub start_s: f64,
    /// The priming was assumed, not stated by the file.
    pub delay_assumed: bool,
    /// The container's name.
    pub format: String,
}

/// Why a recording cannot be heard.
#[derive(Debug, thiserror::Error)]
pub enum SoundError {
    /// Nothing is there.
    #[error("the recording is empty")]
    Empty,
    /// Not a sound file that is known here.
    #[error(
        "not a sound or a film that is known here, or a damaged one; WAV, FLAC, OGG Vorbis, MP3, AAC, MP4 and MOV are known"
    )]
    Unknown,
    /// A film whose index is missing or damaged.
    #[error(transparent)]
    Film(mp4::Mp4Error),
    /// No audio track inside.
    #[error("the file has no audio track")]
    NoAudio,
    /// An audio track of a kind not decoded here.
    #[error("the audio is of a kind not decoded here ({reason}); save it as WAV or FLAC")]
    Codec {
        /// What the decoder said.
        reason: String,
    },
    /// No such channel.
    #[error("channel {asked} was asked for, but the recording has {channels} (counted from 0)")]
    NoChannel {
        /// Asked for.
        asked: usize,
        /// In the file.
        channels: usize,
    },
    /// The rate changed on the way.
    #[error(
        "the sample rate changes from {before_hz} to {after_hz} Hz at {at_s:.2} s; save it at one rate"
    )]
    RateChange {
        /// Rate so far.
        before_hz: u32,
        /// Rate from here.
        after_hz: u32,
        /// Where.
        at_s: f64,
    },
    /// The file contradicts itself so badly that it cannot be decoded.
    #[error("the recording is damaged: its own numbers contradict each other")]
    Header,
    /// Too many packets in a row were damaged.
    #[error("the recording is damaged from {at_s:.2} s on")]
    Damaged {
        /// Where.
        at_s: f64,
    },
    /// It cannot be read.
    #[error("the recording cannot be read")]
    Read(#[from] std::io::Error),
}

/// A seekable reader with its length found once.
struct Source<R> {
    inner: R,
    length: u64,
}

impl<R: Read> Read for Source<R> {
    fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
        self.inner.read(buffer)
    }
}

impl<R: Seek> Seek for Source<R> {
    fn seek(&mut self, to: SeekFrom) -> std::io::Result<u64> {
        self.inner.seek(to)
    }
}

impl<R: Read + Seek + Send + Sync> MediaSource for Source<R> {
    fn is_seekable(&self) -> bool {
        true
    }

    fn byte_len(&self) -> Option<u64> {
        Some(self.length)
    }
}

/// What a packet held.
enum Packet {
    /// Samples, now in `interleaved`.
    Sound { rate: u32, channels: usize },
    /// Nothing to hear.
    Other,
    /// Not decodable.
    Damaged,
    /// The file ends here.
    End,
}

/// Runs the decoding library. Some damaged headers overflow its arithmetic, which panics in builds that
/// check for it; a recording must not be able to do that, so it becomes an error. Nothing that a panic
/// may have left half done is used again: every such error ends the recording.
fn guarded<T>(work: impl FnOnce() -> T) -> Result<T, SoundError> {
    std::panic::catch_unwind(std::panic::AssertUnwindSafe(work)).map_err(|_| SoundError::Header)
}

/// A recording being heard.
pub struct Sound {
    format: Box<dyn FormatReader>,
    decoder: Box<dyn AudioDecoder>,
    track: u32,
    info: SoundInfo,
    channel: Channel,
    quality: Quality,
    /// Samples given so far.
    given: u64,
    interleaved: Vec<f32>,
    block: Vec<f32>,
}

impl Sound {
    /// Opens a recording. `extension` of its file name, if known, only helps to tell the format.
    ///
    /// # Errors
    /// [`SoundError`].
    pub fn open<R: Read + Seek + Send + Sync + 'static>(
        mut file: R,
        extension: Option<&str>,
        channel: Channel,
    ) -> Result<Self, SoundError> {
        let length = file.seek(SeekFrom::End(0))?;
        if length == 0 {
            return Err(SoundError::Empty);
        }
        let cut_s = stated_cut(&mut file)?;
        file.seek(SeekFrom::Start(0))?;
        let (format, track) = probe(
            Source {
                inner: file,
                length,
            },
            extension,
        )?;
        let entry = format.tracks().iter().find(|t| t.id == track);
        let parameters = entry
            .and_then(|t| t.codec_params.as_ref())
            .and_then(|c| c.audio())
            .ok_or(SoundError::NoAudio)?;
        let make = || {
            symphonia::default::get_codecs()
                .make_audio_decoder(parameters, &AudioDecoderOptions::default())
        };
        let decoder = guarded(make)?.map_err(|e| SoundError::Codec {
            reason: e.to_string(),
        })?;
        let rate = parameters.sample_rate.filter(|r| *r > 0);
        let assumed = cut_s.is_none() && parameters.codec == CODEC_ID_AAC;
        let info = SoundInfo {
            rate_hz: rate.unwrap_or(0),
            channels: parameters.channels.as_ref().map_or(0, |c| c.count()),
            start_s: -cut_s.unwrap_or(0.0),
            delay_assumed: assumed,
            format: format.format_info().short_name.to_owned(),
        };
        let mut sound = Self {
            format,
            decoder,
            track,
            info,
            channel,
            quality: Quality::default(),
            given: 0,
            interleaved: Vec::new(),
            block: Vec::new(),
        };
        sound.first_block()?;
        if assumed {
            sound.info.start_s = -(AAC_PRIMING as f64) / f64::from(sound.info.rate_hz);
        }
        Ok(sound)
    }

    /// Decodes the first packet, so that rate and channels are what the sound really has.
    fn first_block(&mut self) -> Result<(), SoundError> {
        if !self.decode()? {
            return Err(SoundError::Empty);
        }
        Ok(())
    }

    /// What the recording is.
    pub fn info(&self) -> &SoundInfo {
        &self.info
    }

    /// Clipping, silences and damage so far.
    pub fn quality(&self) -> &Quality {
        &self.quality
    }

    /// Time of the next sample, s.
    pub fn position_s(&self) -> f64 {
        self.info.start_s + self.given as f64 / f64::from(self.info.rate_hz)
    }

    /// The next samples, from -1 to 1; empty at the end.
    ///
    /// # Errors
    /// [`SoundError`].
    pub fn next_block(&mut self) -> Result<&[f32], SoundError> {
        if self.block.is_empty() && !self.decode()? {
            return Ok(&[]);
        }
        std::mem::swap(&mut self.block, &mut self.interleaved);
        self.block.clear();
        self.given += self.interleaved.len() as u64;
        Ok(&self.interleaved)
    }

    /// Decodes into `block`; false at the end.
    fn decode(&mut self) -> Result<bool, SoundError> {
        let mut bad = 0;
        while bad < MOST_BAD_PACKETS {
            match self.packet()? {
                Packet::Sound { rate, channels } => {
                    return self.take_block(rate, channels).map(|()| true);
                }
                Packet::Other => {}
                Packet::Damaged => {
                    bad += 1;
                    self.quality.damaged_packets += 1;
                }
                Packet::End => return Ok(false),
            }
        }
        Err(SoundError::Damaged {
            at_s: self.position_s(),
        })
    }

    /// Reads and decodes one packet into `interleaved`.
    fn packet(&mut self) -> Result<Packet, SoundError> {
        let packet = match guarded(|| self.format.next_packet())? {
            Ok(Some(p)) => p,
            // A file cut short ends like one that is whole, but is noted.
            Err(Coded::IoError(e)) if e.kind() == std::io::ErrorKind::UnexpectedEof => {
                self.quality.cut_short = true;
                return Ok(Packet::End);
            }
            Ok(None) | Err(Coded::ResetRequired) => return Ok(Packet::End),
            Err(Coded::IoError(e)) => return Err(e.into()),
            Err(_) => return Ok(Packet::Damaged),
        };
        if packet.track_id != self.track {
            return Ok(Packet::Other);
        }
        let (decoder, samples) = (&mut self.decoder, &mut self.interleaved);
        guarded(|| match decoder.decode(&packet) {
            Ok(buffer) if buffer.frames() > 0 => {
                buffer.copy_to_vec_interleaved(samples);
                Packet::Sound {
                    rate: buffer.spec().rate(),
                    channels: buffer.spec().channels().count(),
                }
            }
            Ok(_) => Packet::Other,
            Err(_) => Packet::Damaged,
        })
    }

    /// Picks the channel of what was decoded.
    fn take_block(&mut self, rate: u32, channels: usize) -> Result<(), SoundError> {
        if self.given == 0 && self.block.is_empty() {
            self.info.rate_hz = rate;
            self.info.channels = channels;
        }
        let before_hz = self.info.rate_hz;
        if rate != before_hz || rate == 0 {
            return Err(SoundError::RateChange {
                before_hz,
                after_hz: rate,
                at_s: self.position_s(),
            });
        }
        let frames = self.interleaved.chunks_exact(channels.max(1));
        self.block.clear();
        match self.channel {
            Channel::Only(asked) if asked >= channels => {
                return Err(SoundError::NoChannel { asked, channels });
            }
            Channel::Only(i) => self.block.extend(frames.map(|f| f[i])),
            Channel::Mean => {
                let part = 1.0 / channels.max(1) as f32;
                self.block
                    .extend(frames.map(|f| f.iter().sum::<f32>() * part));
            }
        }
        // A damaged float file may hold anything: silence is heard instead, and counted.
        for x in &mut self.block {
            if !x.is_finite() {
                *x = 0.0;
                self.quality.not_numbers += 1;
            }
        }
        self.quality.hear(&self.block, rate);
        Ok(())
    }
}

/// What a film's edit list cuts from its sound; `None` when it is no film or has no such list.
fn stated_cut<R: Read + Seek>(file: &mut R) -> Result<Option<f64>, SoundError> {
    match mp4::track_times(file) {
        Ok(tracks) => Ok(tracks
            .iter()
            .find(|t| t.kind == TrackKind::Audio)
            .and_then(|t| (t.cut_s > 0.0 || t.wait_s > 0.0).then_some(t.cut_s - t.wait_s))),
        Err(mp4::Mp4Error::NoIndex) => Err(SoundError::Film(mp4::Mp4Error::NoIndex)),
        Err(_) => Ok(None),
    }
}

/// Finds the format and the audio track.
fn probe<R: Read + Seek + Send + Sync + 'static>(
    source: Source<R>,
    extension: Option<&str>,
) -> Result<(Box<dyn FormatReader>, u32), SoundError> {
    let stream = MediaSourceStream::new(Box::new(source), Default::default());
    let mut hint = Hint::new();
    if let Some(e) = extension {
        hint.with_extension(e);
    }
    let open = || {
        symphonia::default::get_probe().probe(&hint, stream, Default::default(), Default::default())
    };
    let format = guarded(open)?.map_err(|_| SoundError::Unknown)?;
    let track = format
        .default_track(TrackType::Audio)
        .ok_or(SoundError::NoAudio)?
        .id;
    Ok((format, track))
}
