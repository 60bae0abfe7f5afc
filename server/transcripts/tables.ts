export interface TranscriptsTables {
  transcripts: { code: string; export_id: number; student_id: number; content: string; at: string };
  transcript_names: { code: string; given_name: string; family_name: string; student_number: string };
  transcript_withdrawals: { code: string; reason: string; withdrawn_by: number; at: string };
}
