/**
 * Takes a file dropped anywhere on the page, and says so while one is held over it.
 */
import { useEffect, useState, type ReactNode } from 'react';
import { openFile } from '../page/models.ts';
import { useApp } from '../page/store.ts';

export function DropZone(): ReactNode {
  const [isOver, setOver] = useState(false);
  const name = useApp((state) => state.opened?.analysis.model.name);

  useEffect(() => {
    // Enter and leave come for every element passed over; only the balance tells whether the page was left.
    let depth = 0;
    const hasFiles = (event: DragEvent): boolean => event.dataTransfer?.types.includes('Files') ?? false;
    const enter = (event: DragEvent): void => {
      if (!hasFiles(event)) return;
      depth += 1;
      setOver(true);
    };
    const leave = (event: DragEvent): void => {
      if (!hasFiles(event)) return;
      depth = Math.max(0, depth - 1);
      if (depth === 0) setOver(false);
    };
    const over = (event: DragEvent): void => {
      if (hasFiles(event)) event.preventDefault();
    };
    const drop = (event: DragEvent): void => {
      if (!hasFiles(event)) return;
      event.preventDefault();
      depth = 0;
      setOver(false);
      const file = event.dataTransfer?.files[0];
      if (file) void openFile(file);
    };
    window.addEventListener('dragenter', enter);
    window.addEventListener('dragleave', leave);
    window.addEventListener('dragover', over);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragenter', enter);
      window.removeEventListener('dragleave', leave);
      window.removeEventListener('dragover', over);
      window.removeEventListener('drop', drop);
    };
  }, []);

  if (!isOver) return null;
  return (
    <div className="drop stack gap-3" role="status">
      <p className="drop-words huge">Let go to open the model file</p>
      <p>{name === undefined ? 'One .json file.' : `One .json file. If it cannot be read, ${name} stays open.`}</p>
    </div>
  );
}
