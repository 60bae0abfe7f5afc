export interface ProgramTables {
  program: { id: number; name: string; address: string; uuid: string };
}
